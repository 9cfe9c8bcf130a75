/**
 * What the provider's documentation allows in a document: verbs, their attributes, what may stand inside them. The
 * provider only warns about most of it and silently drops a prompt; here each is a failure.
 */

type Check = (value: string) => boolean;

export interface VerbRule {
  readonly attributes: Readonly<Record<string, Check>>;
  readonly required: readonly string[];
  readonly children: readonly string[];
  /** Whether words may stand inside. */
  readonly text: boolean;
}

const MOST_HINTS = 500;
const LONGEST_HINT = 100;

const whole =
  (least: number, most: number): Check =>
  (value) =>
    /^\d+$/.test(value) && Number(value) >= least && Number(value) <= most;
const oneOf =
  (...values: readonly string[]): Check =>
  (value) =>
    values.includes(value);
const flag = oneOf('true', 'false');
const method = oneOf('POST', 'GET');
/** A host with an underscore is refused by the provider. */
const address: Check = (value) => value !== '' && !/^https?:\/\/[^/]*_/.test(value);
const tag: Check = (value) => /^[a-z]{2,3}-[A-Z]{2}$/.test(value);
const seconds = whole(1, 3600);
const hints: Check = (value) => {
  const each = value.split(',').map((hint) => hint.trim());
  return each.length <= MOST_HINTS && each.every((hint) => hint !== '' && hint.length <= LONGEST_HINT);
};
const events: Check = (value) =>
  value.split(' ').every((event) => ['initiated', 'ringing', 'answered', 'completed'].includes(event));

const GATHER: VerbRule = {
  attributes: {
    action: address,
    method,
    input: oneOf('dtmf', 'speech', 'dtmf speech', 'speech dtmf'),
    timeout: seconds,
    speechTimeout: (value) => value === 'auto' || seconds(value),
    speechModel: (value) => /^[a-z0-9_-]+$/.test(value),
    hints,
    language: tag,
    bargeIn: flag,
    numDigits: whole(1, 50),
    finishOnKey: (value) => /^[0-9#*]?$/.test(value),
    actionOnEmptyResult: flag,
    partialResultCallback: address,
    partialResultCallbackMethod: method,
    profanityFilter: flag,
  },
  // Without an end of its own a silent caller is cut off, so both are asked for.
  required: ['action', 'actionOnEmptyResult', 'timeout'],
  children: ['Say', 'Play', 'Pause'],
  text: false,
};

const plain = (attributes: VerbRule['attributes'], text: boolean): VerbRule => ({
  attributes,
  required: [],
  children: [],
  text,
});

/** By name; what is not listed here is unknown. */
export const VERBS: Readonly<Record<string, VerbRule>> = {
  Response: {
    attributes: {},
    required: [],
    children: ['Say', 'Play', 'Pause', 'Gather', 'Dial', 'Redirect', 'Hangup', 'Record'],
    text: false,
  },
  Gather: GATHER,
  Say: plain(
    {
      voice: (value) => /^(man|woman|(Polly|Google)\.[\w-]+)$/.test(value),
      language: tag,
      loop: whole(1, 5),
    },
    true,
  ),
  Play: plain({ loop: whole(1, 5), digits: (value) => /^[\dw#*]+$/.test(value) }, true),
  Pause: plain({ length: whole(1, 60) }, false),
  Redirect: plain({ method }, true),
  Hangup: plain({}, false),
  Dial: {
    attributes: {
      action: address,
      method,
      timeout: whole(5, 600),
      callerId: (value) => /^\+\d{6,15}$/.test(value),
      answerOnBridge: flag,
      hangupOnStar: flag,
      timeLimit: whole(1, 14_400),
    },
    required: ['action', 'timeout', 'callerId'],
    children: ['Number'],
    text: false,
  },
  Number: {
    attributes: {
      url: address,
      method,
      statusCallback: address,
      statusCallbackMethod: method,
      statusCallbackEvent: events,
    },
    // A voicemail that picks up would win without a screen on the leg that is dialled.
    required: ['url'],
    children: [],
    text: true,
  },
  Record: {
    attributes: { action: address, method, maxLength: whole(2, 3600), timeout: seconds, playBeep: flag },
    required: ['action', 'maxLength'],
    children: [],
    text: false,
  },
};

/** What a document on the dialled leg may hold. */
export const ON_DIALLED_LEG: ReadonlySet<string> = new Set(['Say', 'Play', 'Pause', 'Gather', 'Hangup']);
