/** What was sent and is not kept yet, in sight, with whom to ring meanwhile; and what the server did not take. */
import type { CallView } from '../../../desk/contract/call-view.ts';
import type { DeskInput } from '../../../desk/contract/turns.ts';
import { WORDS } from '../../words.ts';
import { Trouble } from '../trouble.tsx';
import { useValue } from '../value.ts';
import type { Session } from './session.ts';

const W = WORDS.trouble;

export function Unsent({ session }: { readonly session: Session }) {
  const { view, waiting, trouble, refused, movedElsewhere } = useValue(session.state);
  return (
    <div className="unsent">
      {trouble !== null && (
        <Trouble refused={trouble} retry={session.retry}>
          {waiting.length > 0 && (
            <>
              <p>{W.waiting}</p>
              <ol>
                {waiting.map(({ token, input }) => (
                  <li key={token}>{inputText(input, view)}</li>
                ))}
              </ol>
            </>
          )}
        </Trouble>
      )}
      {refused !== null && (
        <Trouble refused={refused.why} dismiss={session.dismiss}>
          <p>
            {W.notCounted} <q>{inputText(refused.input, view)}</q>
          </p>
        </Trouble>
      )}
      {movedElsewhere && refused === null && (
        <p className="notice elsewhere" role="status">
          {W.movedElsewhere}{' '}
          <button type="button" className="quiet" onClick={session.dismiss}>
            {W.dismiss}
          </button>
        </p>
      )}
    </div>
  );
}

/** An input in the words of the page. */
function inputText(input: DeskInput, view: CallView | null): string {
  switch (input.kind) {
    case 'answer': {
      const words = view?.outline.find(({ id }) => id === input.question)?.words ?? input.question;
      return `${words} ${answerText(input.value, view)}`;
    }
    case 'fact':
    case 'opening':
    case 'note':
      return input.text;
    case 'volunteer':
      return input.words ?? Object.keys(input.findings).join(', ');
    case 'raise':
    case 'ask-lowering':
    case 'lower':
      return `${W.kinds[input.kind]}: ${input.why}`;
    case 'accept':
      return `${W.kinds.accept}: ${input.clinician}`;
    case 'promise-kept':
      return `${W.kinds['promise-kept']}: ${input.text}`;
    case 'close':
      return `${W.kinds.close}: ${input.agreed}`;
    case 'identify':
    case 'reopen':
    case 'back':
    case 'cut-off':
    case 'tell':
      return W.kinds[input.kind];
  }
}

function answerText(value: string | number, view: CallView | null): string {
  const option = view?.question?.options.find((one) => one.value === value);
  return option?.label ?? String(value);
}
