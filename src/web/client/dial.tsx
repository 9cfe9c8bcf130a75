/** A telephone number that a tap dials and a press copies. */
import { WORDS } from '../words.ts';
import { say } from './say.ts';

export function Dial({ dial, shown }: { readonly dial: string; readonly shown: string }) {
  const copy = (): void => {
    void navigator.clipboard.writeText(shown).then(
      () => say(WORDS.act.copied),
      () => say(WORDS.act.notCopied),
    );
  };
  return (
    <span className="dial">
      <a href={`tel:${dial}`}>{shown}</a>
      <button type="button" className="quiet copy" aria-label={`${WORDS.act.copy} ${shown}`} onClick={copy}>
        {WORDS.act.copy}
      </button>
    </span>
  );
}
