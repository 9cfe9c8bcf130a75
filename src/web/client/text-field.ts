/** Enter sends a text of several lines; shift and Enter begins a new line. */

export function onEnter(area: HTMLTextAreaElement, send: () => void): void {
  area.addEventListener('keydown', (event) => {
    if (event.key !== 'Enter' || event.shiftKey || event.isComposing) return;
    event.preventDefault();
    send();
  });
}
