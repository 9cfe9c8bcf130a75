/** The telephone provider by its own library: rings and texts, each under a key that makes a repetition harmless. */
import twilio from 'twilio';
import type { Provider, Sending, Sent } from '../follow/provider.ts';

export interface ProviderAccount {
  readonly accountSid: string;
  readonly token: string;
  /** The practice's own number, E.164. */
  readonly from: string;
  /** `https://desk.example`: where the provider asks what to say, and tells what came of it. */
  readonly publicUrl: string;
  /** Another place than the provider's own, as tests have it; null is the provider's. */
  readonly apiUrl: string | null;
}

/** A clinician's or caller's telephone rings for so long; voicemails pick up later than that (common practice). */
const RING_SECONDS = 25;
const REQUEST_MILLIS = 10_000;

export function providerClient(account: ProviderAccount): Provider {
  const { from, publicUrl } = account;
  return {
    ring: ({ what, ...sending }) =>
      sent(async () => {
        const about = `message=${encodeURIComponent(sending.message)}`;
        const call = await clientFor(account, sending).calls.create({
          to: sending.to,
          from,
          timeout: RING_SECONDS,
          url: `${publicUrl}/line/${what}?${about}`,
          statusCallback: `${publicUrl}/line/${what}-status?${about}`,
          statusCallbackEvent: ['completed'],
        });
        return call.sid;
      }),
    text: ({ words, ...sending }) =>
      sent(async () => {
        const about = `message=${encodeURIComponent(sending.message)}`;
        const message = await clientFor(account, sending).messages.create({
          to: sending.to,
          from,
          body: words,
          statusCallback: `${publicUrl}/text/status?${about}`,
        });
        return message.sid;
      }),
  };
}

/** The library's own requests, with the key of the sending on each, and to another host where tests need it. */
function clientFor({ accountSid, token, apiUrl }: ProviderAccount, { key }: Sending): twilio.Twilio {
  const httpClient = new twilio.RequestClient({ timeout: REQUEST_MILLIS });
  httpClient.axios.interceptors.request.use((request) => {
    request.headers.set('Idempotency-Key', key);
    if (apiUrl !== null) request.url = elsewhere(request.url ?? '', apiUrl);
    return request;
  });
  return twilio(accountSid, token, { httpClient });
}

function elsewhere(uri: string, apiUrl: string): string {
  const { pathname, search } = new URL(uri);
  return `${apiUrl}${pathname}${search}`;
}

/** What the provider refused is refused; whatever else went wrong may be tried again. */
async function sent(send: () => Promise<string>): Promise<Sent> {
  try {
    return { came: 'sent', providerId: await send() };
  } catch (error) {
    const status = typeof error === 'object' && error !== null && 'status' in error ? error.status : null;
    const refused = typeof status === 'number' && status >= 400 && status < 500 && status !== 429;
    return { came: 'failed', again: !refused };
  }
}
