/** One native dialog over the page: a title, what it asks, and what happens when it is sent. */
import { useEffect, useRef, type ReactNode } from 'react';
import { WORDS } from '../words.ts';

interface Asking {
  readonly title: string;
  readonly hint?: string;
  readonly submit: string;
  readonly wide?: boolean;
  /** Called when it is sent; what it holds decides whether it closes. */
  readonly send: () => void;
  readonly close: () => void;
  readonly children: ReactNode;
}

export function AskDialog({ title, hint, submit, wide = false, send, close, children }: Asking) {
  const dialog = useRef<HTMLDialogElement>(null);
  useEffect(() => {
    const shown = dialog.current;
    shown?.showModal();
    return () => shown?.close();
  }, []);
  return (
    <dialog
      ref={dialog}
      className={wide ? 'wide' : undefined}
      aria-labelledby="dialog-title"
      onCancel={(event) => {
        event.preventDefault();
        close();
      }}
    >
      <form
        onSubmit={(event) => {
          event.preventDefault();
          send();
        }}
      >
        <h2 id="dialog-title">{title}</h2>
        {hint !== undefined && <p className="hint">{hint}</p>}
        {children}
        <div className="row end">
          <button type="button" onClick={close}>
            {WORDS.act.cancel} <kbd>Esc</kbd>
          </button>
          <button type="submit" className="main">
            {submit}
          </button>
        </div>
      </form>
    </dialog>
  );
}
