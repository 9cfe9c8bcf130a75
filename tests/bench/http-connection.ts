/** One kept-alive HTTP connection that posts JSON and waits for each answer; small, so that the server is measured. */
import { once } from 'node:events';
import { connect, type Socket } from 'node:net';

const HEAD_END = Buffer.from('\r\n\r\n');

export interface Answer {
  readonly status: number;
  readonly body: string;
}

export interface Connection {
  /** One at a time. */
  readonly post: (path: string, body: string) => Promise<Answer>;
  readonly close: () => void;
}

export async function openConnection(port: number, cookie: string): Promise<Connection> {
  const socket = connect({ port, host: '127.0.0.1', noDelay: true });
  await once(socket, 'connect');
  return {
    post: (path, body) => {
      if (socket.destroyed) return Promise.reject(new Error('The server closed an idle connection.'));
      const answer = readAnswer(socket);
      socket.write(requestText(path, body, { port, cookie }));
      return answer;
    },
    close: () => void socket.destroy(),
  };
}

function requestText(
  path: string,
  body: string,
  { port, cookie }: { readonly port: number; readonly cookie: string },
): string {
  return [
    `POST ${path} HTTP/1.1`,
    `Host: 127.0.0.1:${port}`,
    'Content-Type: application/json',
    'X-Call-Desk: bench',
    `Cookie: ${cookie}`,
    `Content-Length: ${Buffer.byteLength(body)}`,
    '',
    body,
  ].join('\r\n');
}

function readAnswer(socket: Socket): Promise<Answer> {
  return new Promise((resolve, reject) => {
    let bytes: Buffer = Buffer.alloc(0);
    const onData = (part: Buffer): void => {
      bytes = bytes.length === 0 ? part : Buffer.concat([bytes, part]);
      const answer = wholeAnswer(bytes);
      if (answer === null) return;
      done();
      resolve(answer);
    };
    const onEnd = (): void => {
      done();
      reject(new Error('The server closed the connection before its answer was whole.'));
    };
    const done = (): void => {
      socket.off('data', onData).off('close', onEnd).off('error', onEnd);
    };
    socket.on('data', onData).on('close', onEnd).on('error', onEnd);
  });
}

/** Null while bytes are missing. Every server here gives the length of its answer. */
function wholeAnswer(bytes: Buffer): Answer | null {
  const headEnd = bytes.indexOf(HEAD_END);
  if (headEnd < 0) return null;
  const head = bytes.toString('latin1', 0, headEnd);
  const length = /^content-length: (\d+)/im.exec(head)?.[1];
  if (length === undefined) throw new Error(`An answer without its length: ${head.slice(0, 60)}`);
  const start = headEnd + HEAD_END.length;
  const end = start + Number(length);
  if (bytes.length < end) return null;
  return { status: Number(head.slice(9, 12)), body: bytes.toString('utf8', start, end) };
}
