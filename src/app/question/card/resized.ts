// An item is bought in another size from now on: nobody but who stands before them knows what the sealed ones hold.
import { type Books, stockKey, stockOf } from '../../../domain/ledger/books.ts';
import type { Event } from '../../../domain/ledger/event.ts';
import type { DialogOf } from '../../../screens/dialog.ts';
import { askedLines } from '../../../screens/frame/dialog-view.ts';
import { goTo } from '../../keymap.ts';
import { close, isMove, moved, noField, only, type Question } from '../question.ts';

type Asked = DialogOf<'resized'>;

const optionsOf = (was: string, now: string): readonly string[] => [
  `${was} each: they were filled before`,
  `${now} each: the size was only written wrong; count them now`,
  'some of each: count them now',
];

export const resized: Question<'resized'> = {
  ask: ({ books }, { item: id, was, many, cursor }, size) => {
    const item = books.items.get(id);
    return askedLines(
      {
        title: `${many} sealed ${item?.name ?? id} ${many === 1 ? 'stands' : 'stand'} there. What ${many === 1 ? 'does it' : 'do they'} hold?`,
        options: optionsOf(was, item?.sizeText ?? ''),
        cursor,
        foot: '↑↓ choose, Enter answers. Until they are counted the books take the first.',
      },
      size,
    );
  },
  ...noField,
  key: (state, dialog, key) => {
    if (isMove(key))
      return only({ ...state, dialog: { ...dialog, cursor: moved(key, dialog.cursor, 3, 3) } });
    if (key !== 'enter') return only(state);
    return dialog.cursor === 0 ? only(close(state)) : goTo(close(state), dialog.recount);
  },
};

/** The question an item that was just written leads to; none where nothing of it stood sealed. */
export function askResized(before: Books, events: readonly Event[]): Asked | null {
  const written = events.find((event) => event.kind === 'item-written' && event.keepsSealed === true);
  if (written?.kind !== 'item-written') return null;
  const stood = stockOf(before, written.item.id).filter(({ sealed }) => sealed > 0);
  const [first] = stood;
  const was = before.items.get(written.item.id)?.sizeText;
  if (first === undefined || was === undefined) return null;
  return {
    kind: 'resized',
    item: written.item.id,
    was,
    many: stood.reduce((sum, { sealed }) => sum + sealed, 0),
    recount: { room: 'count', at: stockKey(first.item, first.place) },
    cursor: 0,
  };
}
