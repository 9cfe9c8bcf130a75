/** The caution below every page: what this desk is not, and where else a caller may need to ring. */
import type { PracticeAnswer } from '../../../desk/contract/practice.ts';
import { WORDS } from '../../words.ts';

export function Caution({ practice }: { readonly practice: PracticeAnswer | null }) {
  if (practice === null) return <footer className="caution" />;
  return (
    <footer className="caution">
      <p>{practice.caution}</p>
      <p>
        {route(WORDS.practice.crisis, practice.crisis)} {route(WORDS.practice.poisons, practice.poisons)}
      </p>
    </footer>
  );
}

/** "For a mental health crisis: NUMBER, choose ...". */
function route(what: string, { dial, choose }: PracticeAnswer['crisis']): string {
  return `${what}: ${dial}${choose === null ? '' : `, ${WORDS.practice.choose} ${choose}`}.`;
}
