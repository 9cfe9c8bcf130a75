/** In which order findings are taken when combinations are counted: always the one that leaves the least to keep in mind. */

/** What ties findings together; factors of one sum add to the same points. */
export interface Tie {
  readonly findings: readonly number[];
  /** Null where no points are added up. */
  readonly sum: number | null;
}

/** A finding is kept while a tie still looks for another one, points are kept while their sum may still grow. */
const FINDING_KEPT = 1.5;
const SUM_KEPT = 3;

export function eliminationOrder(findings: readonly number[], ties: readonly Tie[]): readonly number[] {
  const left = new Set(findings);
  const about = new Map(
    findings.map((finding) => [finding, ties.filter((tie) => tie.findings.includes(finding))]),
  );
  const ofSum = new Map<number, readonly Tie[]>();
  for (const tie of ties) if (tie.sum !== null) ofSum.set(tie.sum, [...(ofSum.get(tie.sum) ?? []), tie]);
  const order: number[] = [];
  const frontier = new Set<number>();
  while (left.size > 0) {
    const next = cheapest(left, { about, ofSum, frontier });
    left.delete(next);
    order.push(next);
    frontier.add(next);
    for (const one of frontier) if (!isKept(one, left, about)) frontier.delete(one);
  }
  return order;
}

interface Search {
  readonly about: ReadonlyMap<number, readonly Tie[]>;
  readonly ofSum: ReadonlyMap<number, readonly Tie[]>;
  readonly frontier: ReadonlySet<number>;
}

function cheapest(left: ReadonlySet<number>, { about, ofSum, frontier }: Search): number {
  let best: { readonly finding: number; readonly cost: number } | null = null;
  for (const finding of left) {
    const after = new Set(left);
    after.delete(finding);
    const kept = [...frontier, finding].filter((one) => isKept(one, after, about)).length;
    const cost = kept * FINDING_KEPT + openSums(after, ofSum) * SUM_KEPT;
    if (best === null || cost < best.cost) best = { finding, cost };
  }
  if (best === null) throw new Error('No finding is left to take');
  return best.finding;
}

function isKept(finding: number, left: ReadonlySet<number>, about: Search['about']): boolean {
  return (about.get(finding) ?? []).some((tie) => tie.findings.some((one) => left.has(one)));
}

/** Sums of which some tie is at its end and another is not. */
function openSums(left: ReadonlySet<number>, ofSum: Search['ofSum']): number {
  let open = 0;
  for (const ties of ofSum.values()) {
    const ended = ties.filter((tie) => !tie.findings.some((one) => left.has(one))).length;
    if (ended > 0 && ended < ties.length) open += 1;
  }
  return open;
}
