// rename, retire: another name for an item, a card or a person; out of use, and back.
import { intendRename, intendRetire } from '../../domain/intent/intend-change.ts';
import { type Command, hasFlag, usageProblem } from '../line/command.ts';
import { recordWith } from '../line/record.ts';

export const rename: Command = {
  name: 'rename',
  usage: ['rename item|spec|person|place OLD NEW'],
  says: 'another name; its past stays, and the old name still finds it',
  examples: ['rename item "dry gin" "House gin"'],
  run: (context) => {
    const [what, old, name, more] = context.words;
    if (
      (what !== 'item' && what !== 'spec' && what !== 'person' && what !== 'place') ||
      old === undefined ||
      name === undefined ||
      more !== undefined
    )
      return usageProblem(
        'Say item, spec, person or place, the old name and the new one, each in quotes when it has spaces.',
      );
    return recordWith(context, (books) => intendRename(books, what, old, name));
  },
};

export const retire: Command = {
  name: 'retire',
  usage: ['retire item|spec NAME [--back]'],
  says: 'takes an item or a card out of use: it leaves search, levels and count, and stays in every report; --back brings it back',
  examples: ['retire spec "House Sour"', 'retire spec "House Sour" --back'],
  flags: [{ name: 'back', says: 'brings it back' }],
  run: (context) => {
    const [what, ...words] = context.words;
    const name = words.join(' ');
    if ((what !== 'item' && what !== 'spec') || name === '')
      return usageProblem('Say item or spec, and which, as ullage retire spec "House Sour".');
    return recordWith(context, (books) => intendRetire(books, what, name, hasFlag(context, 'back')));
  },
};
