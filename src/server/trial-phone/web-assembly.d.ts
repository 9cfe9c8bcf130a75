/** The part of the WebAssembly interface (W3C) that speaking needs; Node has it, and its types do not. */
declare namespace WebAssembly {
  function compile(bytes: Uint8Array): Promise<Module>;
  function instantiate(module: Module, imports: object): Promise<Instance>;
}
