/** The sign-ins of the demonstration: one for each of its people, with one password that its data folder makes for itself. */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { newKey } from '../../store/sealing.ts';
import type { StaffMember } from '../../people/staff.ts';
import { addAccount, listAccounts } from './accounts.ts';
import { hashPassword } from './password-hash.ts';
import { isGoodPin, keepPin } from './pins.ts';
import type { SignIn } from './sign-in.ts';

export interface DemoSignIns {
  readonly password: string;
  /** Of every on-call clinician. */
  readonly pin: string;
  readonly people: readonly StaffMember[];
}

const FILE = 'demo-password';
/** Printed at every start, so guessing it back from its hash gains nobody anything. */
const DEMO_COST = { n: 1024, r: 8, p: 1 };

export async function seedDemoSignIns(
  { auth, database }: Pick<SignIn, 'auth' | 'database'>,
  staff: readonly StaffMember[],
  dataDir: string,
): Promise<DemoSignIns> {
  const { password, pin } = readOrMake(join(dataDir, FILE));
  const known = new Set((await listAccounts(auth)).map(({ id }) => id));
  const passwordHash = await hashPassword(password, DEMO_COST);
  for (const who of staff.filter(({ id }) => !known.has(id))) {
    await addAccount(auth, { who, passwordHash });
    if (who.role === 'on-call-clinician') await keepPin(database, { staff: who.id, pin, cost: DEMO_COST });
  }
  return { password, pin, people: staff };
}

/** One line: the password and the PIN. */
function readOrMake(file: string): Pick<DemoSignIns, 'password' | 'pin'> {
  try {
    writeFileSync(file, `${made()}\n`, { mode: 0o600, flag: 'wx' });
  } catch {
    // It is there from an earlier start.
  }
  const [password = '', pin = ''] = readFileSync(file, 'utf8').trim().split(' ');
  return { password, pin };
}

function made(): string {
  const key = newKey();
  const pin = String(key.readUInt32BE(8) % 1_000_000).padStart(6, '0');
  return isGoodPin(pin) ? `demo-${key.toString('hex').slice(0, 12)} ${pin}` : made();
}
