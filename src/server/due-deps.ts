/** Puts together what sending needs: the provider where there is one, the practice's ladder, and the words. */
import { newId } from '../basics/ids.ts';
import type { MessageWords } from '../follow/message-words.ts';
import type { DueDeps } from '../follow/send-due.ts';
import type { StoredMessage } from '../call/outbox.ts';
import type { TurnDeps } from '../call/turn.ts';
import type { LineDeps } from '../line/deps.ts';
import type { ReachDeps } from '../line/reach-deps.ts';
import { filled } from '../line/words.ts';
import { showTelephone } from '../people/show-telephone.ts';
import type { Store } from '../store/store.ts';
import { followSettings } from './compose.ts';
import type { Config } from './config.ts';
import type { Content } from './content.ts';
import { providerClient } from './provider-client.ts';

interface Parts {
  readonly config: Pick<Config, 'provider'>;
  readonly turn: TurnDeps;
  readonly store: Pick<Store, 'outbox' | 'textNumbers'>;
  /** The address that the provider calls, without a slash at the end. */
  readonly publicUrl: string;
}

/** Nothing leaves a demonstration, whatever credentials there are. */
export function dueDeps(content: Content, { config, turn, store, publicUrl }: Parts): DueDeps {
  const { practice, messageWords } = content;
  const account = practice.mode === 'demo' ? null : config.provider;
  return {
    turn,
    by: newId(),
    outbox: store.outbox,
    numbers: store.textNumbers,
    provider: account === null ? null : providerClient({ ...account, publicUrl }),
    settings: followSettings(practice),
    country: practice.country,
    notReached: messageWords.notReached,
    textWords: (message) => textWords(messageWords, messageNames(content), message),
  };
}

/** What outgoing rings and incoming texts need. */
export function reachDeps(
  content: Content,
  line: LineDeps,
  { outbox, textNumbers }: Pick<Store, 'outbox' | 'textNumbers'>,
): ReachDeps {
  const { messageWords } = content;
  const names = messageNames(content);
  const broken = filled(messageWords.texts.broken, names);
  return { line, outbox, numbers: textNumbers, messageWords, names, broken };
}

type Names = ReachDeps['names'];

/** Numbers and places, never a patient or what a call is about. */
function messageNames({ practice, place }: Content): Names {
  const { name, address } = practice.seenAt['emergency-department'];
  const line = showTelephone(practice.telephones.line, practice.country);
  return { emergency: place.emergency.number, line, place: name, address };
}

function textWords({ texts }: MessageWords, names: Names, { template }: StoredMessage): string | null {
  const words: Readonly<Record<string, string>> = texts;
  const text = words[template];
  return text === undefined ? null : filled(text, names);
}
