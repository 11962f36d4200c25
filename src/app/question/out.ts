// What is out: read, and said by hand. "mint, wilted until 23:00" says so; Enter on such a line says that it is back.
import { intendBack, intendOut } from '../../domain/intent/intend-out.ts';
import type { DialogOf } from '../../screens/dialog.ts';
import { outLines, outRows } from '../../screens/frame/out-view.ts';
import { blank, line, piece } from '../../screens/parts/line.ts';
import { asks, close, field, isMove, moved, only, type Question, refused, wants } from './question.ts';

type Asked = DialogOf<'out'>;

/** What, why and until when, as typed. */
function parsed(text: string): {
  readonly what: string;
  readonly why: string;
  readonly until: string | null;
} {
  const [what = '', ...rest] = text.split(',');
  const reason = rest.join(',').trim();
  const until = /^(.*?)\s*\buntil\s+(\S+)$/i.exec(reason);
  return until === null
    ? { what, why: reason, until: null }
    : { what, why: (until[1] ?? '').replace(/,$/, ''), until: until[2] ?? null };
}

export const out: Question<'out'> = {
  ask: ({ books, now }, { text, choice }, { columns, rows }) => [
    line(
      piece('▸ ', 'strong'),
      text,
      piece(' ', 'chosen'),
      text === '' ? '  say what is out and why: mint, wilted; ice, machine down until 23:00' : '',
    ),
    ...outLines(books, now, choice, { columns, rows: rows - 3 }),
    blank,
    line('Enter says it, or that it is back. Esc goes back.'),
  ],
  ...field<Asked>(140),
  key: (state, dialog, key) => {
    const rows = outRows(state.books, state.now);
    if (isMove(key))
      return only({ ...state, dialog: { ...dialog, choice: moved(key, dialog.choice, rows.length, 8) } });
    if (key !== 'enter') return null;
    if (dialog.text.trim() !== '') {
      const said = parsed(dialog.text);
      return asks({ ...state, dialog: { ...dialog, text: dialog.text } }, (books, now) =>
        intendOut(books, { by: null, ...said }, now),
      );
    }
    const row = rows[dialog.choice];
    if (row === undefined) return only(close(state));
    if ('out' in row)
      return refused(state, 'The books say so: a delivery or a count brings it back. Esc goes back.');
    return wants(state, (books) => intendBack(books, { by: null, thing: row.mark }));
  },
  waits: true,
};
