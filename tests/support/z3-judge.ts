/**
 * An independent judge of one flow at one moment: the flow written down as formulas for the Z3 solver (Microsoft Research,
 * MIT licence), straight from its compiled rules, with every value of the grid, unsure and not reached.
 */
import { init, type Arith, type Bool, type Context } from 'z3-solver';
import { UNSURE, type Condition, type FindingSpec, type Test } from '../../src/clinical/finding.ts';
import { SAME_DAY, WITHIN_THE_HOUR, rank } from '../../src/clinical/outcome.ts';
import { holdsAt, type TimeSince } from '../../src/clinical/window.ts';
import type { Concern, Flow, Rule } from '../../src/flow/compiled.ts';

type Z3 = Context<'judge'>;
type Truth = Bool<'judge'>;
type Whole = Arith<'judge'>;

/** A finding as the solver sees it: its kind of answer, and where it is a number, the place on its grid. */
interface Variable {
  readonly spec: FindingSpec;
  /** -1 not reached, then the values in order (one for all numbers), then unsure. */
  readonly answer: Whole;
  readonly number: Whole;
}

interface Call {
  readonly z3: Z3;
  readonly variables: ReadonlyMap<string, Variable>;
  readonly limits: readonly Truth[];
}

export interface Judge {
  /** For each finding that has a worse way: whether a worse value can lower the outcome. */
  readonly worseLowers: (flow: Flow, at: TimeSince) => Promise<readonly string[]>;
  /** The red flags that can hold without the outcome that they have to come to. */
  readonly mildFlags: (flow: Flow, at: TimeSince) => Promise<readonly string[]>;
  readonly close: () => void;
}

export async function startJudge(): Promise<Judge> {
  const { Context, em } = await init();
  const z3 = Context('judge');
  return {
    worseLowers: (flow, at) => worseLowers(z3, flow, at),
    mildFlags: (flow, at) => mildFlags(z3, flow, at),
    close: () => em.PThread.terminateAllThreads(),
  };
}

async function worseLowers(z3: Z3, flow: Flow, at: TimeSince): Promise<readonly string[]> {
  const lowered: string[] = [];
  for (const spec of Object.values(flow.findings)) {
    if (spec.worse === 'neither' && spec.order === null) continue;
    const better = callOf(z3, flow);
    const other = variableOf(z3, spec, `${spec.id} worse`);
    const worse: Call = { ...better, variables: new Map([...better.variables, [spec.id, other.variable]]) };
    const own = better.variables.get(spec.id);
    if (own === undefined) continue;
    const falls = [1, 2, 3, 4, 5, 6, 7].map((least) =>
      z3.And(reaches(better, flow, { at, least }), z3.Not(reaches(worse, flow, { at, least }))),
    );
    const solver = new z3.Solver();
    solver.add(...better.limits, ...other.limits, isOrdered(z3, own, other.variable), z3.Or(...falls));
    if ((await solver.check()) !== 'unsat') lowered.push(spec.id);
  }
  return lowered;
}

async function mildFlags(z3: Z3, flow: Flow, at: TimeSince): Promise<readonly string[]> {
  const mild: string[] = [];
  const call = callOf(z3, flow);
  for (const rule of flow.rules) {
    if (rule.effect.kind !== 'red-flag') continue;
    const inside = holdsAt(rule.window, at);
    if (!inside && rule.effect.harmlessOutside !== null) continue;
    const least = inside ? Math.max(rank(rule.effect.to), rank(WITHIN_THE_HOUR)) : rank(SAME_DAY);
    const solver = new z3.Solver();
    solver.add(...call.limits, holds(call, rule.if), z3.Not(reaches(call, flow, { at, least })));
    if ((await solver.check()) !== 'unsat') mild.push(rule.id);
  }
  return mild;
}

function callOf(z3: Z3, flow: Flow): Call {
  const all = Object.values(flow.findings).map((spec) => variableOf(z3, spec, spec.id));
  return {
    z3,
    variables: new Map(all.map(({ variable }) => [variable.spec.id, variable])),
    limits: all.flatMap(({ limits }) => limits),
  };
}

function variableOf(
  z3: Z3,
  spec: FindingSpec,
  name: string,
): { readonly variable: Variable; readonly limits: readonly Truth[] } {
  const answer = z3.Int.const(name);
  const number = z3.Int.const(`${name} number`);
  const limits = [
    answer.ge(-1),
    answer.le(unsureOf(spec)),
    number.ge(0),
    number.le(spec.kind === 'number' ? gridAt(spec, spec.max ?? 0) : 0),
  ];
  return { variable: { spec, answer, number }, limits };
}

function unsureOf({ kind, values }: FindingSpec): number {
  return kind === 'number' ? 1 : values.length;
}

/** The place of a number on the grid, counted from the least. */
function gridAt({ min, step }: FindingSpec, value: number): number {
  return Math.round(((value - (min ?? 0)) / step) * 1e6) / 1e6;
}

function holds(call: Call, condition: Condition): Truth {
  const { z3 } = call;
  return z3.Or(...condition.map((row) => z3.And(...row.map((test) => testOf(call, test)))));
}

function testOf({ z3, variables }: Call, test: Test): Truth {
  const variable = variables.get(test.finding);
  if (variable === undefined) return z3.Bool.val(false);
  const { spec, answer, number } = variable;
  if ('in' in test) {
    return z3.Or(
      ...test.in.map((value) => {
        if (value === UNSURE) return answer.eq(unsureOf(spec));
        if (typeof value === 'string') return answer.eq(spec.values.indexOf(value));
        return z3.And(answer.eq(0), number.eq(gridAt(spec, value)));
      }),
    );
  }
  const bound =
    'atLeast' in test
      ? number.ge(Math.ceil(gridAt(spec, test.atLeast)))
      : number.le(Math.floor(gridAt(spec, test.atMost)));
  return z3.And(answer.eq(0), bound);
}

interface Reached {
  readonly at: TimeSince;
  readonly least: number;
}

/** That the outcome comes to this rank at least: by the floor, by a rule, or by the points of a concern. */
function reaches(call: Call, flow: Flow, { at, least }: Reached): Truth {
  const { z3 } = call;
  if (flow.floor !== null && rank(flow.floor) >= least) return z3.Bool.val(true);
  const rules = flow.rules
    .filter((rule) => rankOfRule(rule, at) >= least)
    .map((rule) => holds(call, rule.if));
  const concerns = flow.concerns.flatMap((concern) => crossings(call, { flow, concern, at, least }));
  return z3.Or(...rules, ...concerns);
}

/** Practice rule: outside its days a red flag still gives a same-day review, unless it says why not. */
function rankOfRule({ effect, window }: Rule, at: TimeSince): number {
  if (effect.kind === 'points') return 0;
  if (holdsAt(window, at)) return rank(effect.to);
  return effect.kind === 'red-flag' && effect.harmlessOutside === null ? rank(SAME_DAY) : 0;
}

interface Crossing extends Reached {
  readonly flow: Flow;
  readonly concern: Concern;
}

function crossings(call: Call, { flow, concern, at, least }: Crossing): readonly Truth[] {
  const { z3 } = call;
  const given = flow.rules.flatMap(({ if: condition, effect, window }) =>
    effect.kind === 'points' && effect.concern === concern.id && holdsAt(window, at)
      ? [z3.If(holds(call, condition), z3.Int.val(effect.points), z3.Int.val(0))]
      : [],
  );
  const total = given.reduce<Whole>((sum, points) => sum.add(points), z3.Int.val(0));
  return concern.thresholds
    .filter(({ to }) => rank(to) >= least)
    .map(({ points, when }) =>
      z3.And(total.ge(points), when === null ? z3.Bool.val(true) : holds(call, when)),
    );
}

/** That the second answer is worse than the first by the order of the vocabulary. */
function isOrdered(z3: Z3, better: Variable, worse: Variable): Truth {
  const { spec } = better;
  if (spec.order !== null) {
    return z3.Or(
      ...spec.order.flatMap((chain) =>
        chain.flatMap((low, at) =>
          chain
            .slice(at + 1)
            .map((high) =>
              z3.And(better.answer.eq(spec.values.indexOf(low)), worse.answer.eq(spec.values.indexOf(high))),
            ),
        ),
      ),
    );
  }
  if (spec.kind !== 'number') {
    const known = [better, worse].flatMap(({ answer }) => [answer.ge(0), answer.lt(unsureOf(spec))]);
    const falls = spec.worse === 'no' || spec.worse === 'down';
    return z3.And(...known, falls ? worse.answer.lt(better.answer) : better.answer.lt(worse.answer));
  }
  const measured = z3.And(better.answer.eq(0), worse.answer.eq(0));
  const normal = gridAt(spec, Number(spec.normal));
  const up = better.number.lt(worse.number);
  const down = worse.number.lt(better.number);
  if (spec.worse === 'up') return z3.And(measured, up);
  if (spec.worse === 'down') return z3.And(measured, down);
  return z3.And(
    measured,
    z3.Or(
      z3.And(better.number.ge(Math.ceil(normal)), up),
      z3.And(better.number.le(Math.floor(normal)), down),
    ),
  );
}
