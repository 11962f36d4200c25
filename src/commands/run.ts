// One command line, run: from words to an outcome. Nothing here touches the process.
import { nearestNames } from '../domain/search/nearest.ts';
import { clean } from '../domain/value/text.ts';
import { instantOfFlag, type Outcome, refused, say, usageProblem, type World } from './line/command.ts';
import { commandHelp, helpText } from './line/help.ts';
import { parseFlags, splitCommand } from './line/parse.ts';
import { commands } from './table.ts';

export async function runCommand(argv: readonly string[], world: World): Promise<Outcome> {
  const { command: name, before, after } = splitCommand(argv);
  if (name === null) {
    const read = parseFlags(before, null);
    if ('problem' in read) return read.problem;
    if (read.parsed.flags.has('version')) return say(`ullage ${world.version}`);
    if (read.parsed.flags.has('help')) return say(helpText(commands));
    if (world.isTerminal) return { exit: 0, out: '', err: '', rooms: true };
    return usageProblem(
      'The rooms need a terminal. In a script use a command, as ullage levels; see ullage --help.',
    );
  }
  const command = commands.find((known) => known.name === name);
  if (command === undefined) {
    const near = nearestNames(
      name,
      commands.map((known) => known.name),
    );
    const remedy = near[0] === undefined ? 'See ullage --help.' : `Did you mean ullage ${near[0]}?`;
    return usageProblem(`There is no command "${clean(name).slice(0, 40)}". ${remedy}`);
  }
  const read = parseFlags([...before, ...after], command);
  if ('problem' in read) return read.problem;
  const { flags, words } = read.parsed;
  if (flags.has('help')) return say(commandHelp(command));
  if (flags.has('version')) return say(`ullage ${world.version}`);
  const at = instantOfFlag(flags.get('at')?.at(-1));
  if (!at.ok) return refused(at.problems);
  return await command.run({ words, flags, json: flags.has('json'), at: at.value, world });
}
