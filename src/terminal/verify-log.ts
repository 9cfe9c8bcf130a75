/** Command: walks the record chain of every call and every checkpoint, and names the first broken link. */
import { existsSync } from 'node:fs';
import type { BrokenLink, RecordChain } from '../call/call-store.ts';
import { readConfig, type Config } from '../server/config.ts';
import { openConfiguredStore } from '../server/open-store.ts';
import { screen } from './screen.ts';

/** A line of progress each time so many calls more have been walked. */
const CALLS_A_LINE = 1_000;

async function main(): Promise<void> {
  const config = readConfig();
  if (!config.ok) return unusable(config.fault.message);
  if (!isThere(config.value)) {
    return unusable(
      `DATA_DIR names no folder: ${config.value.dataDir}; the data folder of the server is accepted.`,
    );
  }
  const store = await openConfiguredStore(config.value);
  if (!store.ok) return unusable(store.fault.message);
  try {
    await verify(store.value.chain);
  } catch (error) {
    const why = error instanceof Error ? error.message : 'unknown';
    unusable(`The record cannot be read: ${why}`);
  } finally {
    await store.value.close();
  }
}

/** Opening makes what is missing, and an empty record made by a slip of the pen would hold perfectly. */
function isThere({ databaseUrl, dataDir }: Config): boolean {
  return databaseUrl !== null || existsSync(dataDir);
}

async function verify(chain: RecordChain): Promise<void> {
  let walked = 0;
  const broken = await chain.firstBrokenLink((calls) => {
    if (Math.floor(calls / CALLS_A_LINE) > Math.floor(walked / CALLS_A_LINE)) {
      screen.error(`${calls} calls walked`);
    }
    walked = calls;
  });
  if (!broken.ok) return unusable('The record cannot be read: the store does not answer.');
  if (broken.value === null) {
    screen.line(`The record holds: ${walked} ${walked === 1 ? 'call' : 'calls'} and every checkpoint.`);
    return;
  }
  screen.line(`The record is broken: ${placeOf(broken.value)}${broken.value.what}`);
  screen.exit(1);
}

function placeOf({ call, seq }: BrokenLink): string {
  if (call === null) return '';
  return seq === null ? `call ${call}: ` : `call ${call}, event ${seq}: `;
}

function unusable(message: string): void {
  screen.error(message.replaceAll('\n', ' '));
  screen.exit(2);
}

await main();
