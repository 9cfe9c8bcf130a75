/** A TCP port on 127.0.0.1 that nothing listens on. */
import { once } from 'node:events';
import { createServer } from 'node:net';

/** The system picks it; between the answer and its use another program could still take it. */
export async function freePort(): Promise<number> {
  const server = createServer().listen(0, '127.0.0.1');
  await once(server, 'listening');
  const address = server.address();
  server.close();
  await once(server, 'close');
  if (address === null || typeof address === 'string') throw new Error('The system gave no TCP port');
  return address.port;
}
