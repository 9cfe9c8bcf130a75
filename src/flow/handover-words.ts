/** The words of the written handover: which there are, and what each has to name. */

/** By id, the places in braces that the text must hold, so that no wording can lose a name or a number. */
const PLACES = {
  'emergency-told': [],
  'emergency-untold': [],
  'urgent-now': [],
  'urgent-within-the-hour': [],
  review: [],
  possible: ['concern'],
  patient: ['name', 'born'],
  'not-identified': [],
  'ring-back': ['number'],
  'not-known': [],
  'not-asked': [],
  'day-not-known': [],
  day: ['day'],
  hours: ['hours'],
  'record-not-seen': [],
  surgeon: ['surgeon'],
  'anaesthetic-not-recorded': [],
  implant: [],
  mesh: [],
  drain: [],
  allergies: ['allergies'],
  'blood-thinner': ['name'],
  'last-food-or-drink': ['last'],
  'none-recorded': [],
  'says-the-caller': ['value'],
  'own-words': ['words'],
  dangers: ['list'],
  unknown: ['list'],
  others: ['list'],
  'taken-back': ['list'],
  nothing: [],
  'nothing-broke-off': [],
  news2: ['points', 'missing'],
  'news2-nothing-missing': [],
  wells: ['leg', 'lung'],
  'ask-emergency': [],
  'ask-urgent': [],
  'ask-review': [],
  'nothing-told': [],
  'told-until-seen': [],
  where: ['where', 'who'],
  'read-back': [],
} as const satisfies Readonly<Record<string, readonly string[]>>;

export type HandoverWordId = keyof typeof PLACES;
export type HandoverWords = Readonly<Record<HandoverWordId, string>>;

export const HANDOVER_WORDS = Object.keys(PLACES) as [HandoverWordId, ...HandoverWordId[]];

/** The places that a text lacks; none when it names all it has to. */
export function missingPlaces(id: HandoverWordId, text: string): readonly string[] {
  return PLACES[id].filter((place) => !text.includes(`{${place}}`));
}
