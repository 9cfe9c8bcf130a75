/** The sign-ins of the demonstration: one for each of its people, with one password that its data folder makes for itself. */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { newKey } from '../../store/sealing.ts';
import type { StaffMember } from '../../people/staff.ts';
import { addAccount, listAccounts } from './accounts.ts';
import type { Auth } from './auth.ts';
import { hashPassword } from './password-hash.ts';

export interface DemoSignIns {
  readonly password: string;
  readonly people: readonly StaffMember[];
}

const FILE = 'demo-password';
/** Printed at every start, so guessing it back from its hash gains nobody anything. */
const DEMO_COST = { n: 1024, r: 8, p: 1 };

export async function seedDemoSignIns(
  auth: Auth,
  staff: readonly StaffMember[],
  dataDir: string,
): Promise<DemoSignIns> {
  const password = readOrMakePassword(join(dataDir, FILE));
  const known = new Set((await listAccounts(auth)).map(({ id }) => id));
  const passwordHash = await hashPassword(password, DEMO_COST);
  for (const who of staff.filter(({ id }) => !known.has(id))) await addAccount(auth, { who, passwordHash });
  return { password, people: staff };
}

function readOrMakePassword(file: string): string {
  const made = `demo-${newKey().toString('hex').slice(0, 12)}`;
  try {
    writeFileSync(file, `${made}\n`, { mode: 0o600, flag: 'wx' });
    return made;
  } catch {
    return readFileSync(file, 'utf8').trim();
  }
}
