// Where a server is, as somebody typed it: a URL that names a user and no password. Only what is safe is taken: TLS that checks the
// server's certificate and its name, unless the server is this very machine.
import { done, type Result, refuse } from '../../domain/value/problem.ts';

export type Address = {
  readonly host: string;
  readonly port: number;
  readonly database: string;
  readonly user: string;
  /** A file of the certificate authority; null for those this machine trusts. */
  readonly authority: string | null;
  /** Plain only on this machine. */
  readonly tls: boolean;
};

const FORM = 'postgresql://USER@HOST:5432/DATABASE';
/** IETF RFC 6761 (2013) section 6.3 for the name; a path is a socket of this machine. */
export const isHere = (host: string): boolean =>
  host === 'localhost' || host === '127.0.0.1' || host === '::1' || host.startsWith('/');

export function readAddress(text: string): Result<Address> {
  const url = URL.canParse(text) ? new URL(text) : null;
  if (url === null || (url.protocol !== 'postgresql:' && url.protocol !== 'postgres:'))
    return refuse('bad-url', `That is no address of a server. Write it as ${FORM}.`, 64);
  if (url.password !== '')
    return refuse(
      'password-in-url',
      `A password in an address can be read by everybody on this machine. Leave it out and give a file of mode 0600 with --password-file.`,
      64,
    );
  const user = decodeURIComponent(url.username);
  const database = decodeURIComponent(url.pathname.slice(1));
  if (user === '' || database === '')
    return refuse(
      'bad-url',
      `The address names no ${user === '' ? 'user' : 'database'}. Write it as ${FORM}.`,
      64,
    );
  const unknown = [...url.searchParams.keys()].find((name) => !known.has(name));
  if (unknown !== undefined)
    return refuse(
      'bad-url',
      `The address says "${unknown.slice(0, 40)}", which is not known here. Leave it out.`,
      64,
    );
  const mode = url.searchParams.get('sslmode');
  if (mode !== null && mode !== 'verify-full')
    return refuse(
      'weak-tls',
      `sslmode=${mode.slice(0, 20)} would talk to anybody who answers. Only verify-full is used; leave it out.`,
      78,
    );
  const host = url.searchParams.get('host') ?? url.hostname.replace(/^\[|\]$/g, '');
  if (host === '') return refuse('bad-url', `The address names no host. Write it as ${FORM}.`, 64);
  return done({
    host,
    port: url.port === '' ? 5432 : Number(url.port),
    database,
    user,
    authority: url.searchParams.get('sslrootcert'),
    tls: !isHere(host) || mode !== null,
  });
}

const known: ReadonlySet<string> = new Set(['sslmode', 'sslrootcert', 'host']);

/** As it is said in a sentence: never more than where it is. */
export const addressText = ({ host, port, database }: Pick<Address, 'host' | 'port' | 'database'>): string =>
  `${host}:${port}/${database}`;
