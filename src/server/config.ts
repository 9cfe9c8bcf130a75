/** The one reader of the environment: where to listen, under which address, and where the record is kept. */
import { fault, type Fault } from '../basics/fault.ts';
import { failed, ok, type Result } from '../basics/result.ts';

export interface Config {
  /** The address of the machine that is listened on; only this machine reaches the usual one. */
  readonly host: string;
  /** A TCP port; 0 lets the system choose one. */
  readonly port: number;
  /** The folder of the embedded databases and of the practice key. */
  readonly dataDir: string;
  /** PostgreSQL; null keeps the record in SQLite under the data folder. */
  readonly databaseUrl: string | null;
  /** `https://desk.example` without a slash at the end: what browsers and the provider call; null when nothing stands in front. */
  readonly publicUrl: string | null;
  /** Proxies whose word on the client's address is taken, as Express reads them; null trusts none. */
  readonly trustedProxies: string | null;
  /** The telephone provider's key: it signs with it, and we check. Null: the line can only be tried. */
  readonly providerToken: string | null;
  /** With what the telephone provider is asked to ring and text; null keeps everything in the outbox. */
  readonly provider: ProviderAccess | null;
  /** Null: people sign in with what they have here only. */
  readonly oidc: OidcAccess | null;
}

/** The practice's own accounts (OpenID Connect). */
export interface OidcAccess {
  /** Of `.well-known/openid-configuration`. */
  readonly discoveryUrl: string;
  readonly clientId: string;
  readonly clientSecret: string;
}

export interface ProviderAccess {
  readonly accountSid: string;
  readonly token: string;
  /** The practice's number at the provider, E.164. */
  readonly from: string;
  /** Null is the provider's own address. */
  readonly apiUrl: string | null;
}

export type Environment = Readonly<Record<string, string | undefined>>;

/** What an empty environment gives. */
export const USUAL_CONFIG: Config = {
  host: '127.0.0.1',
  port: 4070,
  dataDir: '.data',
  databaseUrl: null,
  publicUrl: null,
  trustedProxies: null,
  providerToken: null,
  provider: null,
  oidc: null,
};

/** Unset and empty are the same; anything else that does not fit is refused, never replaced by a guess. */
export function readConfig(environment: Environment = process.env): Result<Config, Fault> {
  const text = (name: string): string => environment[name] ?? '';
  const port = readPort(text('PORT'));
  if (port === null) return refused('PORT is not a port; a whole number from 0 to 65535 is accepted.');
  const url = text('DATABASE_URL');
  if (url !== '' && !/^postgres(ql)?:\/\//.test(url)) {
    return refused('DATABASE_URL is no address of a database; postgres://... is accepted.');
  }
  const publicUrl = readPublicUrl(text('PUBLIC_URL'));
  if (publicUrl === undefined) {
    return refused('PUBLIC_URL is no address of a site; https://name without a path is accepted.');
  }
  const proxies = text('TRUSTED_PROXIES');
  return ok({
    host: text('HOST') || USUAL_CONFIG.host,
    port,
    dataDir: text('DATA_DIR') || USUAL_CONFIG.dataDir,
    databaseUrl: url || null,
    publicUrl,
    trustedProxies: proxies || (publicUrl?.startsWith('https:') === true ? 'loopback' : null),
    providerToken: text('TWILIO_AUTH_TOKEN') || null,
    provider: readProvider(text),
    oidc: readOidc(text),
  });
}

/** Null while one of the three is missing. */
function readOidc(text: (name: string) => string): OidcAccess | null {
  const [discoveryUrl, clientId, clientSecret] = [
    text('OIDC_DISCOVERY_URL'),
    text('OIDC_CLIENT_ID'),
    text('OIDC_CLIENT_SECRET'),
  ];
  const isWhole = discoveryUrl !== '' && clientId !== '' && clientSecret !== '';
  return isWhole ? { discoveryUrl, clientId, clientSecret } : null;
}

/** Null while one of the three is missing. */
function readProvider(text: (name: string) => string): ProviderAccess | null {
  const accountSid = text('TWILIO_ACCOUNT_SID');
  const token = text('TWILIO_AUTH_TOKEN');
  const from = text('TWILIO_FROM');
  return accountSid === '' || token === '' || from === '' ? null : { accountSid, token, from, apiUrl: null };
}

function refused(message: string): Result<Config, Fault> {
  return failed(fault('bad-request', message));
}

function readPort(text: string): number | null {
  if (text === '') return USUAL_CONFIG.port;
  if (!/^\d{1,5}$/.test(text)) return null;
  const port = Number(text);
  return port <= 65_535 ? port : null;
}

/** Undefined for what is no such address. */
function readPublicUrl(text: string): string | null | undefined {
  if (text === '') return null;
  const url = URL.parse(text);
  const isSite = url !== null && /^https?:$/.test(url.protocol) && url.pathname === '/' && url.search === '';
  return isSite && url.username === '' && url.password === '' ? url.origin : undefined;
}
