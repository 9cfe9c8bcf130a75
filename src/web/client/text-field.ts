/** Enter sends a text of several lines; shift and Enter begins a new line. */
import type { KeyboardEvent } from 'react';

export function onEnter(send: () => void): (event: KeyboardEvent<HTMLTextAreaElement>) => void {
  return (event) => {
    if (event.key !== 'Enter' || event.shiftKey || event.nativeEvent.isComposing) return;
    event.preventDefault();
    send();
  };
}
