/** Stands in for the telephone provider on loopback: takes rings and texts over HTTP and remembers what it was asked. */
import { once } from 'node:events';
import { createServer, type IncomingMessage } from 'node:http';
import { freePort } from './free-port.ts';

export interface Asked {
  readonly what: 'Calls' | 'Messages';
  readonly to: string;
  /** Of the message, as the address for what came of it names it. */
  readonly message: string;
  readonly key: string;
  readonly body: string;
}

export interface StandIn {
  readonly url: string;
  /** Every request, repetitions included. */
  readonly asked: readonly Asked[];
  /** What a provider that keeps to the key has really done. */
  readonly done: () => readonly Asked[];
  /** How it answers from now on: with a number of its own, or with this status. */
  readonly answerWith: (status: 201 | 400 | 503) => void;
  /** Called with every request before it is answered. */
  readonly whenAsked: (run: (asked: Asked) => void) => void;
  readonly stop: () => Promise<void>;
}

export async function providerStandIn(): Promise<StandIn> {
  const port = await freePort();
  const asked: Asked[] = [];
  let status = 201;
  let told: (one: Asked) => void = () => undefined;
  const server = createServer((request, response) => {
    void read(request).then((one) => {
      asked.push(one);
      told(one);
      const sid = `${one.what === 'Calls' ? 'CA' : 'SM'}${String(asked.length).padStart(32, '0')}`;
      response.writeHead(status, { 'Content-Type': 'application/json' });
      response.end(JSON.stringify(status === 201 ? { sid } : { status, code: 20003, message: 'no' }));
    });
  });
  server.listen(port, '127.0.0.1');
  await once(server, 'listening');
  return {
    url: `http://127.0.0.1:${String(port)}`,
    asked,
    done: () => [...new Map(asked.map((one) => [one.key, one])).values()],
    answerWith: (next) => {
      status = next;
    },
    whenAsked: (run) => {
      told = run;
    },
    stop: async () => {
      server.closeAllConnections();
      server.close();
      await once(server, 'close');
    },
  };
}

async function read(request: IncomingMessage): Promise<Asked> {
  const chunks: Buffer[] = [];
  for await (const chunk of request) chunks.push(chunk as Buffer);
  const form = new URLSearchParams(Buffer.concat(chunks).toString('utf8'));
  const callback = new URL(form.get('StatusCallback') ?? 'http://nowhere');
  return {
    what: (request.url ?? '').includes('/Calls') ? 'Calls' : 'Messages',
    to: form.get('To') ?? '',
    message: callback.searchParams.get('message') ?? '',
    key: String(request.headers['idempotency-key'] ?? ''),
    body: form.get('Body') ?? '',
  };
}
