/** An older and a newer flow over one domain, at the classes of moments that either of them tells apart. */
import type { CompiledFlow } from '../../flow/compiled.ts';
import { joinedDomain, type Domain } from '../domain.ts';
import { tablesOf, type Tables } from '../tables.ts';
import { timeClasses, type TimeClass } from '../times.ts';
import { answersOf, joinedSpecs, openingConditions } from './answers.ts';
import type { Answers } from './count-ways.ts';

export interface Joined {
  readonly domain: Domain;
  readonly answers: Answers;
  readonly before: Tables;
  readonly after: Tables;
  readonly classes: readonly TimeClass[];
}

export function joinedOf(before: CompiledFlow, after: CompiledFlow): Joined {
  const flows = [before.flow, after.flow];
  const specs = joinedSpecs(flows);
  const domain = joinedDomain(specs, flows, openingConditions(specs.values()));
  return {
    domain,
    answers: answersOf(domain, flows),
    before: tablesOf(before.flow, domain),
    after: tablesOf(after.flow, domain),
    classes: timeClasses(flows.flatMap(({ rules }) => rules.map(({ window }) => window))),
  };
}

/** The moments of a class as a signer reads them: its days, or its hours where it is only some of a day. */
export function daysText({ times }: TimeClass): string {
  const whole = times.flatMap(({ day, hours }) => (day !== null && hours === null ? [day] : []));
  const unknown = times.some(({ day }) => day === null) ? ['day unknown'] : [];
  if (whole.length > 0) return [daysNamed(whole), ...unknown].join(', ');
  const hours = times.flatMap(({ hours: hour }) => (hour === null ? [] : [hour]));
  const days = times.flatMap(({ day }) => (day === null ? [] : [day]));
  if (hours.length === 0) return unknown.join();
  return [`${daysNamed(days)} at hours ${rangesText(hours)} after surgery`, ...unknown].join(', ');
}

function daysNamed(days: readonly number[]): string {
  return `${new Set(days).size === 1 ? 'day' : 'days'} ${rangesText(days)}`;
}

/** `0-2, 5, 9-12`. */
function rangesText(numbers: readonly number[]): string {
  const sorted = [...new Set(numbers)].toSorted((a, b) => a - b);
  const ranges: [number, number][] = [];
  for (const one of sorted) {
    const last = ranges.at(-1);
    if (last !== undefined && last[1] === one - 1) last[1] = one;
    else ranges.push([one, one]);
  }
  return ranges
    .map(([from, to]) => (from === to ? String(from) : `${String(from)}-${String(to)}`))
    .join(', ');
}
