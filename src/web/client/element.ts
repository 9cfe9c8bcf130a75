/** Makes elements. Text only ever becomes a text node, so that nothing a caller says can be markup. */

export type Child = Node | string | null | false;
type Listener = (event: Event) => void;
export type Attributes = Readonly<Record<string, string | boolean | null | Listener>>;

/** A function is a listener for the event of that name; true is an empty attribute, false and null are none. */
export function el<TTag extends keyof HTMLElementTagNameMap>(
  tag: TTag,
  attributes: Attributes,
  ...children: readonly Child[]
): HTMLElementTagNameMap[TTag] {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (typeof value === 'function') element.addEventListener(name, value);
    else if (typeof value === 'string') element.setAttribute(name, value);
    else if (value === true) element.setAttribute(name, '');
  }
  element.append(...kept(children));
  return element;
}

/** Replaces all that an element holds. */
export function fill(element: Element, ...children: readonly Child[]): void {
  element.replaceChildren(...kept(children));
}

function kept(children: readonly Child[]): (Node | string)[] {
  return children.filter((child) => child !== null && child !== false);
}

/** The element of that id in the shell; the page cannot work without it. */
export function byId(id: string): HTMLElement {
  const element = document.getElementById(id);
  if (element === null) throw new Error(`The page has no ${id}`);
  return element;
}

/** Says something to a screen reader without moving anything. */
export function say(text: string): void {
  byId('said').textContent = text;
}
