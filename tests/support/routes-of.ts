/** Every route of an Express application, with the routers inside it, as `get /path`. */
import type { Express } from 'express';

interface Layer {
  readonly rawPath?: string;
  readonly route?: { readonly path: string; readonly methods: Readonly<Record<string, boolean>> };
  readonly handle?: { readonly stack?: readonly Layer[] };
}

export function routesOf(express: Express): readonly string[] {
  // What Express keeps to itself is not typed; a walk that finds nothing fails the test that asked.
  return inStack((express.router as unknown as { readonly stack: readonly Layer[] }).stack, '');
}

function inStack(stack: readonly Layer[], before: string): readonly string[] {
  return stack.flatMap(({ rawPath = '', route, handle }) => {
    const here = `${before}${rawPath}`.replace(/\/$/, '');
    if (route === undefined) return handle?.stack === undefined ? [] : inStack(handle.stack, here);
    return Object.keys(route.methods).map((method) => `${method} ${before}${route.path}`);
  });
}
