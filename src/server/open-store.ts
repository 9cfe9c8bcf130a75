/** Opens the store that the settings name: PostgreSQL by its address, else SQLite under the data folder. */
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { fault, type Fault } from '../basics/fault.ts';
import { failed, ok, type Result } from '../basics/result.ts';
import { readOrMakeKeyFile, type KeyFileFault } from '../store/key-file.ts';
import { openPostgres } from '../store/postgres.ts';
import { openSqlite } from '../store/sqlite.ts';
import type { Store } from '../store/store.ts';
import type { Config } from './config.ts';

const KEY_FILE = 'practice.key';
const DATABASE_FILE = 'call-desk.sqlite';

const KEY_FAULTS: Readonly<Record<KeyFileFault, string>> = {
  'open-to-others': 'can be read by others; a file that only its owner may read (mode 600) is accepted',
  malformed: 'holds no key; 64 hexadecimal digits are accepted',
  unreadable: 'cannot be read or made; a folder that may be written to is accepted',
};

export async function openConfiguredStore(
  config: Pick<Config, 'dataDir' | 'databaseUrl'>,
): Promise<Result<Store, Fault>> {
  const keyFile = keyFileIn(config.dataDir);
  if (!makeFolder(config.dataDir)) {
    return failed(
      fault('store-down', 'DATA_DIR cannot be made or written to; a writable folder is accepted.'),
    );
  }
  const keys = readOrMakeKeyFile(keyFile);
  if (!keys.ok) return failed(fault('store-down', `The key file ${keyFile} ${KEY_FAULTS[keys.fault]}.`));
  try {
    if (config.databaseUrl !== null) {
      return ok(await openPostgres({ url: config.databaseUrl, keys: keys.value }));
    }
    return ok(await openSqlite({ file: join(config.dataDir, DATABASE_FILE), keys: keys.value }));
  } catch (error) {
    const where = config.databaseUrl === null ? join(config.dataDir, DATABASE_FILE) : 'at DATABASE_URL';
    const why = error instanceof Error ? error.message : 'unknown';
    return failed(fault('store-down', `The database ${where} cannot be opened: ${why}`));
  }
}

export function keyFileIn(dataDir: string): string {
  return join(dataDir, KEY_FILE);
}

function makeFolder(folder: string): boolean {
  try {
    mkdirSync(folder, { recursive: true, mode: 0o700 });
    return true;
  } catch {
    return false;
  }
}
