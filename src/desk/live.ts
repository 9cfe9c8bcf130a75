/** GET /api/live: says which call has changed, as server-sent events; the page reads that call again. */
import type { Request, Response } from 'express';
import type { Notices } from '../basics/notices.ts';
import { every } from '../basics/system-clock.ts';

const EVENTS = 'text/event-stream';
const BEAT_MILLIS = 20_000;
/** Then the browser comes again, so that a session that is over is noticed. */
const BEATS_AT_MOST = 15;

export interface Live {
  readonly stream: (request: Request, response: Response) => void;
  /** Ends every stream, so that the server can close. */
  readonly stop: () => void;
}

export function live(notices: Notices): Live {
  const open = new Set<Response>();
  return {
    stream: (request, response) => {
      if (request.get('accept') !== EVENTS) {
        response.status(406).type('text').send('Only a stream of events is to be had here.');
        return;
      }
      response.writeHead(200, { 'Content-Type': EVENTS, 'Cache-Control': 'no-store' });
      response.write('retry: 1000\n\n');
      open.add(response);
      let beats = 0;
      const stopBeat = every(BEAT_MILLIS, () => {
        beats += 1;
        if (beats > BEATS_AT_MOST) response.end();
        else response.write(': still here\n\n');
      });
      const stopListening = notices.listen((id) => {
        response.write(`event: changed\ndata: ${JSON.stringify(id)}\n\n`);
      });
      request.on('close', () => {
        stopBeat();
        stopListening();
        open.delete(response);
      });
    },
    stop: () => {
      for (const response of open) response.end();
    },
  };
}
