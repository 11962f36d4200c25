// A card or a form that was half written when the rooms closed: kept with this machine's own notes, and gone on with at the next start.
import { existsSync, readFileSync, rmSync } from 'node:fs';
import { dirname, join } from 'node:path';
import * as z from 'zod/mini';
import { firstActing } from '../../domain/value/text.ts';
import type { DialogOf } from '../../screens/dialog.ts';
import { hasFolder, writeText } from './files.ts';
import { markOf } from './paths.ts';

type Write = DialogOf<'write'>;

/** What is read, and the bytes it was read from: only these are taken away again. */
export type KeptDraft = { readonly draft: Write; readonly bytes: string };

const kept = z.object({
  what: z.enum(['spec', 'item', 'person', 'supplier', 'place', 'setting']),
  text: z.string().check(z.minLength(1), z.maxLength(4000)),
  at: z.int().check(z.gte(0)),
  was: z.nullable(z.string().check(z.maxLength(200))),
});

/** Where the half written lines of these books are kept. */
export function draftFile(dataFolder: string, stateFolder: string): string {
  return join(stateFolder, `half-written-${markOf(dataFolder)}.json`);
}

/** What was half written; null when nothing was, or when it is none of ours. */
export function readDraft(file: string): KeptDraft | null {
  try {
    const bytes = readFileSync(file, 'utf8');
    const { what, text, at, was } = kept.parse(JSON.parse(bytes));
    if (firstActing(text.split('\n')) !== null) return null;
    // The round it was written for is long served: it is only written now.
    const draft: Write = {
      kind: 'write',
      what,
      text,
      at: Math.min(at, text.length),
      column: null,
      was,
      pours: null,
    };
    return { draft, bytes };
  } catch {
    return null;
  }
}

/**
 * Keeps what is half written, or takes away what no longer is. False when no disk takes it, or when lines stand there that
 * this window never saw: those are another's, and are not written over.
 */
export function keepDraft(file: string, draft: Write | null, taken: KeptDraft | null): boolean {
  const isOurs = !existsSync(file) || bytesOf(file) === taken?.bytes;
  if (draft === null) {
    if (taken !== null && isOurs) rmSync(file, { force: true });
    return true;
  }
  const { what, text, at, was } = draft;
  return (
    isOurs && hasFolder(dirname(file)) && writeText(file, `${JSON.stringify({ what, text, at, was })}\n`).ok
  );
}

function bytesOf(file: string): string | null {
  try {
    return readFileSync(file, 'utf8');
  } catch {
    return null;
  }
}

/** What it is called: its first line that says more than a label. */
export function draftName({ text }: Write): string {
  const lines = text.split('\n').map((line) => line.replace(/^(?:#+|[a-z ]+:)\s*/, '').trim());
  return lines.find((line) => line !== '') ?? 'something without a name';
}
