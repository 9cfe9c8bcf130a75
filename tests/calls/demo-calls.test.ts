/** Every demo call, through the one door, gives the outcome that was expected of it by someone who had not seen the flows. */
import { readdirSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { DemoCall } from '../../src/terminal/demo-call.ts';
import { playCall, type Played } from '../../src/terminal/play-call.ts';
import { readCalls } from '../../src/terminal/read-calls.ts';
import { shortfalls } from '../../src/terminal/shortfalls.ts';
import { turnDeps } from '../../src/server/compose.ts';
import { openMemory } from '../../src/store/memory.ts';
import { newKey } from '../../src/store/sealing.ts';
import { systemClock } from '../../src/basics/system-clock.ts';
import { realContent } from '../support/real-flows.ts';

const content = realContent();
const files = readdirSync('demo-calls').filter((file) => file.endsWith('.yaml'));
const calls = readCalls(files.map((file) => `demo-calls/${file}`));
const deps = turnDeps(content, openMemory({ practiceKey: newKey() }), systemClock);
const playing = { callerNumber: content.practice.telephones.text };

/** Worrying facts that a call which was not cut short by urgency neither asked for nor heard. */
function unheard({ done, neverAsked }: Played, call: DemoCall): readonly string[] {
  if (done.standing.assessment.outcome.outcome === 'urgent-escalation') return [];
  const { findings } = done.runner.compiled.flow;
  return neverAsked.filter(
    (id) => findings[id]?.kind !== 'number' && call.facts?.[id] !== findings[id]?.normal,
  );
}

describe('demo calls', () => {
  it('are at least a hundred, about a third of each outcome', () => {
    if (!calls.ok) throw new Error(calls.fault.message);
    expect(calls.value.length).toBeGreaterThanOrEqual(100);
    for (const outcome of ['advise', 'arrange-review', 'urgent-escalation']) {
      const such = calls.value.filter(({ call }) => call.expect?.outcome === outcome).length;
      expect(such / calls.value.length, outcome).toBeGreaterThan(0.29);
    }
  });

  it.each(calls.ok ? calls.value : [])('$place', async ({ call }) => {
    const played = await playCall(deps, call, { ...playing, withOpening: true });
    if (!played.ok) throw new Error(played.fault.message);
    expect(shortfalls(call, played.value)).toEqual([]);
    expect(unheard(played.value, call)).toEqual([]);
  });

  it.each(calls.ok ? calls.value : [])('$place, asked without its opening', async ({ call }) => {
    const played = await playCall(deps, call, { ...playing, withOpening: false });
    if (!played.ok) throw new Error(played.fault.message);
    if (played.value.neverAsked.length === 0) expect(shortfalls(call, played.value)).toEqual([]);
    expect(played.value.done.standing.context.asked.length).toBeLessThanOrEqual(40);
  });
});

// Practice rule: light and dark skin, calm and tearful, woman and man end the same.
describe('two calls that differ only in who tells it and how', () => {
  it.each([
    ['104-ashen-against-the-other', '105-plum-against-the-other'],
    ['106-hot-and-darker-on-brown-skin', '107-hot-and-red-on-white-skin'],
    ['108-calm-about-the-pus', '109-in-floods-about-the-pus'],
    ['110-he-has-a-band-round-his-chest', '111-she-has-a-band-round-her-chest'],
    ['112-gym-for-him', '113-gym-for-her'],
  ])('end the same: %s and %s', async (one, other) => {
    const [first, second] = await Promise.all([ending(one), ending(other)]);
    expect(first).toEqual(second);
  });
});

async function ending(name: string): Promise<unknown> {
  const read = readCalls([`demo-calls/${name}.yaml`]);
  if (!read.ok) throw new Error(read.fault.message);
  const [found] = read.value;
  if (found === undefined) throw new Error(`${name} holds no call`);
  const played = await playCall(deps, found.call, { ...playing, withOpening: true });
  if (!played.ok) throw new Error(played.fault.message);
  const { outcome, redFlags, act } = played.value.done.standing.assessment;
  return { outcome, redFlags, act };
}
