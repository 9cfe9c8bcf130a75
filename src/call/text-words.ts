/** The few words that a text message may consist of: stop, start, yes and no. */

const STOPS = ['stop', 'unsubscribe', 'end', 'quit', 'stopall', 'revoke', 'optout', 'cancel'];
const STARTS = ['start', 'unstop'];

/** The whole message is the provider's word for no more messages. */
export function saysStop(text: string): boolean {
  return STOPS.includes(folded(text));
}

export function saysStart(text: string): boolean {
  return STARTS.includes(folded(text));
}

/** A plain no to the danger question; anything more than that is not taken for one. */
export function saysNo(text: string): boolean {
  return ['no', 'nope', 'none', 'no thanks', 'no thank you'].includes(folded(text));
}

export function saysYes(text: string): boolean {
  return /^(?:yes|yeah|yep|help)\b/.test(folded(text));
}

function folded(text: string): string {
  return text
    .toLowerCase()
    .replaceAll(/[^a-z ]/g, '')
    .trim();
}
