// house, people: the settings of the house, and who works here.

import { isSettingKey, settingValues } from '../../domain/catalogue/house.ts';
import { intendPersonAdded, intendPersonLeft, intendSetting } from '../../domain/intent/intend-house.ts';
import { intendEach } from '../../domain/intent/intent.ts';
import { clean } from '../../domain/value/text.ts';
import { layTable } from '../../exchange/print/table-text.ts';
import { type Command, refused, say, sayJson, usageProblem, withStore } from '../line/command.ts';
import { recordWith } from '../line/record.ts';

export const house: Command = {
  name: 'house',
  usage: ['house', 'house KEY', 'house KEY VALUE'],
  says: 'the settings of the house: all, one, or a new value for one',
  examples: ['house currency EUR', 'house pour-deviation 2'],
  run: (context) => {
    const [key, ...value] = context.words;
    if (key !== undefined && value.length > 0)
      return recordWith(context, (books) => intendSetting(books, key, value.join(' ')));
    return withStore(context, (store) => {
      const rows = settingValues(store.books().settings).filter(
        (setting) => key === undefined || setting.key === key,
      );
      if (key !== undefined && !isSettingKey(key)) {
        return refused([
          {
            code: 'unknown-setting',
            exit: 64,
            message: `No setting is called "${clean(key).slice(0, 40)}". Run ullage house to see them all.`,
          },
        ]);
      }
      if (context.json) return sayJson(Object.fromEntries(rows.map((row) => [row.key, row.value])));
      return say(
        layTable(
          ['setting', 'value', 'what it is'],
          rows.map((row) => [row.key, row.value, row.says]),
        ),
      );
    });
  },
};

export const people: Command = {
  name: 'people',
  usage: ['people', 'people add NAME…', 'people leave NAME…'],
  says: 'who works here',
  examples: ['people add Ines Tom'],
  run: (context) => {
    const [verb, ...names] = context.words;
    if (verb === undefined) {
      return withStore(context, (store) => {
        const list = [...store.books().people.values()].filter((person) => person.here);
        if (context.json) return sayJson(list.map(({ id, name }) => ({ person: id, name })));
        return say(
          list.length === 0
            ? 'Nobody works here yet. Add people with ullage people add NAME.'
            : list.map(({ name }) => clean(name)).join('\n'),
        );
      });
    }
    if ((verb !== 'add' && verb !== 'leave') || names.length === 0)
      return usageProblem('Say ullage people add NAME or ullage people leave NAME.');
    const intend = verb === 'add' ? intendPersonAdded : intendPersonLeft;
    return recordWith(context, (books) => intendEach(books, names, intend));
  },
};
