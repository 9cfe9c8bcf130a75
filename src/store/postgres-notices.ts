/**
 * Says between server processes that something has changed, over PostgreSQL's NOTIFY. It listens on a connection of its
 * own and comes back by itself; what was said meanwhile is lost, so nothing may rely on hearing all of it.
 */
import pg from 'pg';
import { every } from '../basics/system-clock.ts';
import { noticesHere, type Notices } from '../basics/notices.ts';

const CHANNEL = 'call_changed';
const AGAIN_MILLIS = 2_000;

export interface SharedNotices extends Notices {
  readonly close: () => Promise<void>;
}

export function postgresNotices(url: string): SharedNotices {
  const here = noticesHere();
  let client: pg.Client | null = null;
  let connecting = false;
  const lose = (): void => {
    client = null;
  };
  const connect = async (): Promise<void> => {
    if (client !== null || connecting) return;
    connecting = true;
    const next = new pg.Client({ connectionString: url, keepAlive: true });
    next.on('error', lose);
    next.on('end', lose);
    next.on('notification', ({ payload }) => here.tell(payload ?? ''));
    try {
      await next.connect();
      await next.query(`listen ${CHANNEL}`);
      client = next;
    } catch {
      // Tried again by the timer.
    } finally {
      connecting = false;
    }
  };
  const stop = every(AGAIN_MILLIS, () => void connect());
  void connect();
  return {
    listen: here.listen,
    tell: (id) => {
      if (client === null) here.tell(id);
      else client.query('select pg_notify($1, $2)', [CHANNEL, id]).catch(() => here.tell(id));
    },
    close: async () => {
      stop();
      const last = client;
      client = null;
      await last?.end();
    },
  };
}
