/** The one reader of the environment: where to listen and where the record is kept. */
import { fault, type Fault } from '../basics/fault.ts';
import { failed, ok, type Result } from '../basics/result.ts';

export interface Config {
  /** A TCP port; 0 lets the system choose one. */
  readonly port: number;
  /** The folder of the embedded database and of the practice key. */
  readonly dataDir: string;
  /** PostgreSQL; null keeps the record in SQLite under the data folder. */
  readonly databaseUrl: string | null;
}

export type Environment = Readonly<Record<string, string | undefined>>;

const USUAL_PORT = 4070;
const USUAL_FOLDER = '.data';

/** Unset and empty are the same; anything else that does not fit is refused, never replaced by a guess. */
export function readConfig(environment: Environment = process.env): Result<Config, Fault> {
  const port = readPort(environment['PORT'] ?? '');
  if (port === null) {
    return failed(fault('bad-request', 'PORT is not a port; a whole number from 0 to 65535 is accepted.'));
  }
  const url = environment['DATABASE_URL'] ?? '';
  if (url !== '' && !/^postgres(ql)?:\/\//.test(url)) {
    return failed(
      fault('bad-request', 'DATABASE_URL is no address of a database; postgres://... is accepted.'),
    );
  }
  const dataDir = environment['DATA_DIR'] ?? '';
  return ok({
    port,
    dataDir: dataDir === '' ? USUAL_FOLDER : dataDir,
    databaseUrl: url === '' ? null : url,
  });
}

function readPort(text: string): number | null {
  if (text === '') return USUAL_PORT;
  if (!/^\d{1,5}$/.test(text)) return null;
  const port = Number(text);
  return port <= 65_535 ? port : null;
}
