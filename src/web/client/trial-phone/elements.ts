/** Small parts of the trial phone's page. */

export function element<TName extends keyof HTMLElementTagNameMap>(
  name: TName,
  attributes: Readonly<Record<string, string>> = {},
  children: readonly (Node | string)[] = [],
): HTMLElementTagNameMap[TName] {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  made.append(...children);
  return made;
}

export function button(label: string, act: () => void, kind = ''): HTMLButtonElement {
  const made = element('button', { type: 'button', ...(kind === '' ? {} : { class: kind }) }, [label]);
  made.addEventListener('click', act);
  return made;
}
