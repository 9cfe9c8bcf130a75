/** Somebody who is well, five days after a tummy tuck, and only wants to hear that it is as it should be. */
import type { Call } from './call.ts';

const MOST_TURNS = 60;

/** One answer to what was asked last. */
export async function sayWell(call: Call): Promise<void> {
  const { said } = call;
  if (/which operation/i.test(said) && call.takesSpeech) await call.say('a tummy tuck five days ago');
  else if (/what worries you/i.test(said)) await call.press('1');
  else if (/how many days ago/i.test(said)) await call.press('5#');
  else if (/is that right|ring again|as a text/i.test(said)) await call.press('1');
  else if (/temperature/i.test(said)) await call.press('368#');
  else if (/press hash/i.test(said) && !/press 2/i.test(said)) await call.press('2#');
  else await call.press('2');
}

/** To the end of the call; how many prompts came from the first danger question to the outcome. */
export async function saysAllIsWell(call: Call): Promise<number> {
  let prompts: number | null = null;
  while (call.isAsked) {
    if (call.turns > MOST_TURNS) throw new Error(`It does not end: ${call.heard.slice(-2).join(' | ')}`);
    if (/ring again/i.test(call.said)) prompts ??= call.turns;
    await sayWell(call);
  }
  return prompts ?? call.turns;
}
