/** What sends on an invented practice: the provider's own library, pointed at a stand-in. */
import type { DueDeps } from '../../src/follow/send-due.ts';
import { providerClient } from '../../src/server/provider-client.ts';
import { REACHING, type Practice } from './a-practice.ts';

/** Without a provider everything is shown only. */
export function aSender(practice: Practice, apiUrl: string | null, by = 'one'): DueDeps {
  const account = {
    accountSid: `AC${'0'.repeat(32)}`,
    token: '12345',
    from: '+448081570100',
    publicUrl: 'https://desk.example',
  };
  return {
    turn: practice.deps,
    by,
    outbox: practice.store.outbox,
    numbers: practice.store.textNumbers,
    provider: apiUrl === null ? null : providerClient({ ...account, apiUrl }),
    settings: REACHING,
    country: 'GB',
    notReached: 'Nobody was reached.',
    textWords: ({ template }) => (template === 'review' ? 'Please ring us.' : null),
  };
}
