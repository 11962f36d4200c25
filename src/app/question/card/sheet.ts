// A spreadsheet taken in from the Book: which of its columns is which, what it would write, and then all of it or nothing.
import { intendSheet } from '../../../domain/intent/intend-house.ts';
import type { Books } from '../../../domain/ledger/books.ts';
import { layoutOf, type Matched, matchColumns, sheetColumns } from '../../../domain/sheet/match.ts';
import { planOf } from '../../../domain/sheet/plan.ts';
import { itemsOfSheet } from '../../../domain/sheet/rows.ts';
import { type Columns, headingKey, type Layout, layoutProblem } from '../../../domain/sheet/sheet.ts';
import { memoBy } from '../../../domain/value/memo.ts';
import { refuseAll } from '../../../domain/value/problem.ts';
import type { DialogOf } from '../../../screens/dialog.ts';
import { columnLines, oursOfColumn, planLines, planRows } from '../../../screens/frame/sheet-view.ts';
import { line } from '../../../screens/parts/line.ts';
import type { AppState } from '../../state.ts';
import { asks, isMove, moved, only, type Question, refused } from '../question.ts';

type Asked = DialogOf<'sheet'>;

const nameOf = (file: string): string => file.split(/[/\\]/).at(-1) ?? file;
const layout = memoBy((sheet: Asked['sheet']) => [sheet], layoutOf);

const matchedBy = memoBy(
  (books: Books, sheet: Asked['sheet'], given: Columns) => [sheet, books, given],
  (books, sheet, given): Matched | null => {
    const found = layout(sheet);
    if (found === null) return null;
    return matchColumns(found, books, books.sheets.get(headingKey(found)) ?? null, given);
  },
);

/** Everything as it stands on the screen, what is guessed among it; and what was left out by hand. */
function settledColumns({ columns, asked }: Matched, given: Columns): Columns {
  const all = new Map([...columns, ...asked.map(({ ours, at }) => [ours, at] as const)]);
  for (const [ours, at] of given) if (at < 0 && !all.has(ours)) all.set(ours, at);
  return all;
}

const readAll = memoBy(
  (books: Books, { sheet, given }: Asked) => [sheet, books, given],
  (books, { sheet, given }) => {
    const [found, matched] = [layout(sheet), matchedBy(books, sheet, given)];
    if (found === null || matched === null) return null;
    const columns = settledColumns(matched, given);
    const read = itemsOfSheet(found, new Map([...columns].filter(([, at]) => at >= 0)), books);
    return { found, columns, read, plan: planOf(read, books) };
  },
);

export const sheet: Question<'sheet'> = {
  ask: ({ books }, dialog, size) => {
    const [found, matched] = [layout(dialog.sheet), matchedBy(books, dialog.sheet, dialog.given)];
    if (found === null || matched === null) return [line(layoutProblem), line('Esc goes back.')];
    const name = nameOf(dialog.file);
    if (dialog.page === 'columns') return columnLines(name, found, matched, dialog.cursor, size);
    const all = readAll(books, dialog);
    return all === null ? [] : planLines(name, all.plan, books, dialog.cursor, size);
  },
  type: null,
  erase: null,
  waits: true,
  esc: (state, dialog) =>
    dialog.page === 'rows'
      ? { ...state, dialog: { ...dialog, page: 'columns', cursor: 0 }, message: null }
      : { ...state, dialog: null, message: null },
  key: (state, dialog, key) => {
    const found = layout(dialog.sheet);
    if (found === null) return null;
    if (isMove(key)) {
      const many = dialog.page === 'columns' ? found.headings.length : rowsOf(state.books, dialog);
      return only({ ...state, dialog: { ...dialog, cursor: moved(key, dialog.cursor, many, 10) } });
    }
    if (dialog.page === 'columns' && key === ' ')
      return only({ ...state, dialog: turned(state.books, dialog, found) });
    if (dialog.page === 'columns' && (key === 'backspace' || key === 'delete'))
      return only({ ...state, dialog: leftOut(state.books, dialog) });
    if (key !== 'enter') return null;
    return dialog.page === 'columns' ? onward(state, dialog) : write(state, dialog);
  },
};

const rowsOf = (books: Books, dialog: Asked): number => {
  const all = readAll(books, dialog);
  return all === null ? 0 : planRows(all.plan, books).length;
};

/** The marked column is the next of ours: what is sure elsewhere is passed over. */
function turned(books: Books, dialog: Asked, { headings }: Layout): Asked {
  const matched = matchedBy(books, dialog.sheet, dialog.given);
  if (matched === null || dialog.cursor >= headings.length) return dialog;
  const now = oursOfColumn(matched, dialog.cursor);
  const isFree = (ours: string): boolean => {
    const at = matched.columns.get(ours) ?? matched.asked.find((one) => one.ours === ours)?.at;
    return at === undefined || at === dialog.cursor;
  };
  const free = sheetColumns.filter(isFree);
  const next = free[(now === null ? -1 : free.indexOf(now.ours)) + (now?.isSure === false ? 0 : 1)];
  const given = new Map(dialog.given);
  if (now !== null) given.set(now.ours, -1);
  if (next !== undefined) given.set(next, dialog.cursor);
  return { ...dialog, given };
}

function leftOut(books: Books, dialog: Asked): Asked {
  const matched = matchedBy(books, dialog.sheet, dialog.given);
  const now = matched === null ? null : oursOfColumn(matched, dialog.cursor);
  return now === null ? dialog : { ...dialog, given: new Map(dialog.given).set(now.ours, -1) };
}

function onward(state: AppState, dialog: Asked) {
  const matched = matchedBy(state.books, dialog.sheet, dialog.given);
  if (matched === null || matched.missing.length > 0)
    return refused(state, 'Mark the column that has the names and press Space until it says name.');
  return only({ ...state, message: null, dialog: { ...dialog, page: 'rows', cursor: 0 } });
}

function write(state: AppState, dialog: Asked) {
  const all = readAll(state.books, dialog);
  if (all === null) return only(state);
  if (all.read.problems.length > 0)
    return refused(state, 'Some lines can not be read. Mend them in the file and import it again.');
  // On the newest books: what another window wrote meanwhile is taken into account.
  return asks(state, (books) => {
    const columns = new Map([...all.columns].filter(([, at]) => at >= 0));
    const read = itemsOfSheet(all.found, columns, books);
    if (read.problems.length > 0) return refuseAll(read.problems);
    return intendSheet(
      books,
      { items: read.items.map(({ item }) => item), suppliers: read.suppliers },
      headingKey(all.found),
      all.columns,
    );
  });
}
