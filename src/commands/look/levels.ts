// levels: what should stand where now.
import { displayAmount, shownIn } from '../../domain/catalogue/display.ts';
import { levelJson, levelsOf } from '../../domain/service/levels.ts';
import { layTable } from '../../exchange/print/table-text.ts';
import { booksNow, type Command, say, sayJson, withStore } from '../line/command.ts';

export const levels: Command = {
  name: 'levels',
  usage: ['levels'],
  says: 'what should stand where now, with drinks left',
  run: (context) =>
    withStore(context, (store) => {
      const books = booksNow(context, store);
      const rows = levelsOf(books);
      if (context.json) return sayJson(rows.map(levelJson));
      if (rows.length === 0)
        return say('Nothing is stocked yet. Import an items file with ullage import FILE.');
      return say(
        layTable(
          ['place', 'item', '>expected', '>sealed', '>open', '>drinks left'],
          rows.map((level) => {
            const json = levelJson(level);
            const shown = (units: number): string =>
              displayAmount(units * 1000, shownIn(level.item), books.house);
            const pieces = json.unit === 'each';
            return [
              json.place,
              json.name,
              shown(json.expected),
              pieces ? '' : String(json.sealed),
              pieces ? '' : shown(json.open),
              `${json.drinksLeft === null ? '' : String(json.drinksLeft)}${books.late.has(level.item.id) ? ', some past its date' : ''}`,
            ];
          }),
        ),
      );
    }),
};
