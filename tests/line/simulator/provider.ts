/** The provider's side of a webhook: signs and sends, insists on what it accepts as an answer, and can repeat itself. */
import { newId } from '../../../src/basics/ids.ts';
import { sign, type Form } from './sign.ts';

/** The provider waits no longer, from connecting to the last byte. */
const HARD_LIMIT = 15_000;

export interface Site {
  /** Where the server really listens. */
  readonly base: string;
  /** As it is configured at the provider, without a slash at the end: what is signed. */
  readonly publicUrl: string;
  readonly token: string;
  /** Times each request is sent; the provider may repeat any. */
  readonly times?: number;
  /** Called around each request by whoever measures. */
  readonly timed?: <T>(request: () => Promise<T>) => Promise<T>;
}

export interface Answer {
  readonly status: number;
  readonly type: string;
  readonly body: string;
}

/** A number such as the provider gives to calls: two letters and 32 hexadecimal digits. */
export function newSid(letters: 'CA' | 'AC' | 'SM'): string {
  return `${letters}${newId().replaceAll('-', '')}`;
}

export interface Sending {
  readonly url: string;
  readonly form: Form;
  /** Instead of the right one; an empty text sends none. */
  readonly signature?: string;
}

/** Once, whatever is answered. */
export async function send(site: Site, { url, form, signature }: Sending, retry = newId()): Promise<Answer> {
  const signed = signature ?? sign(site.token, url, form);
  const request = (): Promise<Answer> => post(site, { url, form, signature: signed }, retry);
  return site.timed === undefined ? await request() : await site.timed(request);
}

async function post(site: Site, { url, form, signature }: Required<Sending>, retry: string): Promise<Answer> {
  const response = await fetch(url.replace(site.publicUrl, site.base), {
    method: 'POST',
    redirect: 'manual',
    signal: AbortSignal.timeout(HARD_LIMIT),
    headers: {
      'User-Agent': 'TwilioProxy/1.1',
      'I-Twilio-Idempotency-Token': retry,
      ...(signature === '' ? {} : { 'X-Twilio-Signature': signature }),
    },
    body: new URLSearchParams(form),
  });
  const type = response.headers.get('content-type') ?? '';
  return { status: response.status, type, body: await response.text() };
}

/** A document; throws on a status, a redirect or a media type that the provider fails a call for or reads aloud. */
export async function fetchDocument(site: Site, url: string, form: Form): Promise<string> {
  const retry = newId();
  const answers: Answer[] = [];
  for (let n = 0; n < (site.times ?? 1); n += 1) answers.push(await send(site, { url, form }, retry));
  const [first] = answers;
  if (first === undefined) throw new Error('A request is sent at least once');
  const place = url.replace(site.publicUrl, '').slice(0, 120);
  if (first.status !== 200) throw new Error(`${place} was answered ${String(first.status)}`);
  if (!/^(text|application)\/xml\b/.test(first.type))
    throw new Error(`${place} was answered as ${first.type}`);
  if (answers.some(({ body, status }) => body !== first.body || status !== 200)) {
    throw new Error(`${place} was answered differently when it was repeated`);
  }
  return first.body;
}

/** A callback steers nothing: 204, or an empty document. */
export async function notify(site: Site, url: string, form: Form): Promise<void> {
  for (let n = 0; n < (site.times ?? 1); n += 1) {
    const { status, body } = await send(site, { url, form });
    const isEmpty = status === 204 || (status === 200 && /<Response\s*\/>|<Response><\/Response>/.test(body));
    if (!isEmpty) throw new Error(`A status callback was answered ${String(status)}`);
  }
}
