// out: the 86 list, and which specs go with it.
import { displayAmount, shownIn } from '../../domain/catalogue/display.ts';
import { outList } from '../../domain/service/out-list.ts';
import { layTable } from '../../exchange/print/table-text.ts';
import { type Command, say, sayJson, withStore } from '../line/command.ts';

export const out: Command = {
  name: 'out',
  usage: ['out'],
  says: 'what is out (86), and which specs go with it',
  run: (context) =>
    withStore(context, (store) => {
      const books = store.books();
      const list = outList(books);
      if (context.json)
        return sayJson(
          list.map(({ item, left, isOut, isUnknown, specs }) => ({
            item: item.id,
            name: item.name,
            left: left / 1000,
            unit: item.unit,
            out: isOut,
            known: !isUnknown,
            specs: specs.map(({ id, name }) => ({ spec: id, name })),
          })),
        );
      if (list.length === 0) return say('Nothing is out: every spec can be poured.');
      return say(
        layTable(
          ['item', '>left', '', 'specs that go with it'],
          list.map(({ item, left, isOut, isUnknown, specs }) => [
            item.name,
            displayAmount(left, shownIn(item), books.house),
            isUnknown ? 'never counted' : isOut ? 'out' : 'too little',
            specs.map(({ name }) => name).join(', '),
          ]),
        ),
      );
    }),
};
