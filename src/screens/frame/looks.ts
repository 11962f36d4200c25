// Things to read in front of a room that follow from the books and keep themselves up to date: a spec beside its kin, what can be poured without an item.

import { specsInUse } from '../../domain/catalogue/catalogue.ts';
import type { Spec } from '../../domain/catalogue/spec.ts';
import { kinOf, nearestWithout } from '../../domain/drink/kin/kin.ts';
import { differenceText } from '../../domain/drink/kin/kin-text.ts';
import { measureText } from '../../domain/drink/measure-text.ts';
import { drinksLeft, type Measured, specLines } from '../../domain/drink/measures.ts';
import { type Books, usableByItem } from '../../domain/ledger/books.ts';
import type { ItemId, SpecId } from '../../domain/value/ids.ts';
import { memoBy } from '../../domain/value/memo.ts';
import type { DialogOf } from '../dialog.ts';
import { shortName, usableNow } from '../format.ts';
import { besides, blank, cut, fitText, type Line, line, piece, wrap } from '../parts/line.ts';
import { listLines, mark } from '../parts/list.ts';

/** Wider than this, two cards stand too far apart to be compared at a glance. */
const WIDEST_CARD = 48;

type Look = DialogOf<'look'>;

/** Rows the cursor can stand on. */
export function lookRows(books: Books, { at }: Look): number {
  return at.what === 'kin' ? kinRows(books, at.spec).length : withoutRows(books, at.item).length;
}

export function lookLines(books: Books, { at, cursor }: Look, columns: number, rows: number): Line[] {
  return at.what === 'kin'
    ? kinLines(books, at.spec, cursor, columns, rows)
    : withoutLines(books, at.item, cursor, columns, rows);
}

type KinRow = { readonly spec: Spec; readonly says: string };

/** One measure apart first; then, when the spec itself can't be poured, the nearest that can. */
function kinRows(books: Books, id: SpecId): KinRow[] {
  const spec = books.specs.get(id);
  if (spec === undefined) return [];
  const kin = kinOf(spec, books).map((one) => ({
    spec: one.spec,
    says: differenceText(one.difference, books),
  }));
  const expected = usableNow(books);
  if ((drinksLeft(spec, books, expected) ?? 0) > 0) return kin;
  const lines = specLines(spec, books);
  const short = lines.ok
    ? lines.value.find(({ item, amount }) => (expected.get(item.id) ?? 0) < amount)
    : undefined;
  if (short === undefined) return kin;
  const near = nearestWithout(spec, short.item.id, books, usableByItem(books))
    .filter(({ spec: other }) => !kin.some((one) => one.spec.id === other.id))
    .map((one) => ({
      spec: one.spec,
      says: `${one.spec.family}, ${one.left} left, without ${shortName(short.item)}`,
    }));
  return [...kin, ...near];
}

function kinLines(books: Books, id: SpecId, cursor: number, columns: number, rows: number): Line[] {
  const spec = books.specs.get(id);
  const list = kinRows(books, id);
  if (spec === undefined || list.length === 0)
    return [
      line(piece(`${spec?.name ?? 'That spec'} has no kin`, 'strong')),
      blank,
      ...wrap('No spec differs from it by a single measure.', columns).map((text) => line(text)),
    ];
  const chosen = list[Math.min(cursor, list.length - 1)];
  const pair = chosen === undefined ? [] : sideBySide(books, spec, chosen.spec, columns);
  const nameWidth = Math.min(26, Math.floor(columns * 0.4));
  return [
    line(piece(`${spec.name} and its kin`, 'strong')),
    blank,
    ...listLines(list, cursor, Math.max(3, Math.min(list.length, rows - 4 - pair.length)), (row, on) =>
      line(
        piece(
          cut(`${mark(on)}${fitText(row.spec.name, nameWidth)} ${row.says}`, columns),
          on ? 'chosen' : 'plain',
        ),
      ),
    ),
    blank,
    ...pair,
  ];
}

/** Two cards of measures beside each other; a line that only one has, or has otherwise, carries a mark. */
function sideBySide(books: Books, left: Spec, right: Spec, columns: number): Line[] {
  const [a, b] = [specLines(left, books), specLines(right, books)];
  if (!a.ok || !b.ok) return [];
  const width = Math.min(WIDEST_CARD, Math.floor((columns - 2) / 2));
  const rest = [...b.value];
  const pairs: [Measured | null, Measured | null][] = a.value.map((line) => {
    const at = rest.findIndex(({ item }) => item.id === line.item.id);
    return [line, at === -1 ? null : (rest.splice(at, 1)[0] ?? null)];
  });
  // What one has in place of the other stands beside it.
  for (const extra of rest) {
    const gap = pairs.find(([, other]) => other === null);
    if (gap !== undefined) gap[1] = extra;
    else pairs.push([null, extra]);
  }
  const text = (measured: Measured | null): string =>
    measured === null
      ? '—'
      : `${fitText(measureText(measured, books, books.house.units, 1), 10)} ${shortName(measured.item)}`;
  const rows = pairs.map(([one, other]) => {
    const same = one?.item.id === other?.item.id && one?.amount === other?.amount;
    return [one, other].map((each) =>
      line(piece(fitText(`${same ? '  ' : '≠ '}${text(each)}`, width), same ? 'plain' : 'strong')),
    );
  });
  const head = [left, right].map(({ name }) => line(piece(fitText(name, width), 'under')));
  const all = [head, ...rows];
  return besides(
    all.map(([first]) => first ?? blank),
    all.map(([, second]) => second ?? blank),
    width,
  );
}

type WithoutRow = { readonly spec: Spec; readonly near: Spec | null };

/** Every spec that needs an item, the usual ones first, and the nearest that can be poured without it. */
const withoutRows = memoBy((books: Books, id: ItemId) => [books, id], findWithout);

function findWithout(books: Books, id: ItemId): readonly WithoutRow[] {
  const item = books.items.get(id);
  if (item === undefined) return [];
  const expected = usableByItem(books);
  return specsInUse(books)
    .filter((spec) => {
      const lines = specLines(spec, books);
      return lines.ok && lines.value.some((each) => each.item.id === item.id);
    })
    .sort((a, b) => (books.habit.get(b.id) ?? 0) - (books.habit.get(a.id) ?? 0))
    .slice(0, 20)
    .map((spec) => ({ spec, near: nearestWithout(spec, item.id, books, expected)[0]?.spec ?? null }));
}

function withoutLines(books: Books, id: ItemId, cursor: number, columns: number, rows: number): Line[] {
  const item = books.items.get(id);
  const list = withoutRows(books, id);
  const name = item === undefined ? 'that item' : shortName(item);
  if (list.length === 0) return [line(piece(`No spec needs ${name}`, 'strong'))];
  const half = Math.max(12, Math.floor((columns - 12) / 2));
  return [
    line(piece(cut(`Without ${name}: what comes nearest and can be poured now`, columns), 'strong')),
    blank,
    ...listLines(list, cursor, rows - 4, ({ spec, near }, on) =>
      line(
        piece(
          cut(
            `${mark(on)}${fitText(spec.name, half)} → ${near === null ? 'nothing near it' : `${near.name}, ${near.family}`}`,
            columns,
          ),
          on ? 'chosen' : 'plain',
        ),
      ),
    ),
  ];
}
