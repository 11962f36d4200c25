// The table of commands: what `--help`, the completions and the dispatch are made from. A new command is one line here.

import { rename, retire } from './book/change.ts';
import { edit } from './book/edit.ts';
import { exportFiles } from './book/export.ts';
import { house, people } from './book/house.ts';
import { importFiles } from './book/import.ts';
import { weigh } from './book/learn.ts';
import { backup, check, restore } from './care.ts';
import { type Command, say, usageProblem } from './line/command.ts';
import { commandHelp, completion, helpText } from './line/help.ts';
import { calc } from './look/calc.ts';
import { costs } from './look/costs.ts';
import { drift } from './look/drift.ts';
import { kin } from './look/kin.ts';
import { levels } from './look/levels.ts';
import { item, items, spec, specs } from './look/look.ts';
import { expect, order } from './look/order.ts';
import { out } from './look/out.ts';
import { lots, prep } from './look/prep.ts';
import { close, report } from './night/close.ts';
import { drill } from './night/drill.ts';
import { pour } from './night/pour.ts';
import { discard, make } from './night/prep.ts';
import { ready } from './night/ready.ts';
import { correct, note } from './night/remarks.ts';
import { log, open, undo } from './night/shift.ts';
import { count, lose, move, receive } from './night/stock.ts';
import { match, till } from './night/till.ts';
import { houses } from './stations/houses.ts';
import { server } from './stations/server.ts';
import { station } from './stations/station.ts';
import { sync } from './stations/sync.ts';

/** Handled by the shell because it swaps the books; here for its help. */
const demo: Command = {
  name: 'demo',
  usage: ['demo [COMMAND…]'],
  says: 'runs a command (default: the rooms) on a fresh copy of an invented house',
  examples: ['demo', 'demo specs gin'],
  run: () => usageProblem('demo does not nest. Run ullage demo COMMAND.'),
};

const completionCommand: Command = {
  name: 'completion',
  usage: ['completion bash|zsh|fish'],
  says: 'prints completions for a shell',
  run: (context) => {
    const [shell] = context.words;
    if (shell !== 'bash' && shell !== 'zsh' && shell !== 'fish')
      return usageProblem('Say which shell: bash, zsh or fish.');
    return say(completion(shell, commands));
  },
};

const help: Command = {
  name: 'help',
  usage: ['help [COMMAND]'],
  says: 'this help, or more on one command',
  run: (context) => {
    const command = commands.find(({ name }) => name === context.words[0]);
    return say(command === undefined ? helpText(commands) : commandHelp(command));
  },
};

export const commands: readonly Command[] = [
  demo,
  importFiles,
  exportFiles,
  items,
  item,
  specs,
  spec,
  kin,
  edit,
  rename,
  retire,
  house,
  people,
  open,
  pour,
  lose,
  receive,
  move,
  count,
  drill,
  weigh,
  ready,
  levels,
  out,
  prep,
  make,
  lots,
  discard,
  order,
  expect,
  till,
  match,
  close,
  report,
  note,
  correct,
  costs,
  drift,
  log,
  undo,
  check,
  backup,
  restore,
  station,
  sync,
  server,
  houses,
  calc,
  completionCommand,
  help,
];
