// The hash chain: each event's hash covers its text and the hash of the event its station recorded before, so a changed
// or missing event shows even where SQLite's own check is blind.
import { hash } from 'node:crypto';

export const CHAIN_START = '0'.repeat(64);

/** SHA-256 over the previous hash and the event's text, in hex. FIPS 180-4 (2015). */
export const chainHash = (previous: string, body: string): string =>
  hash('sha256', `${previous}\n${body}`, 'hex');
