// --help and completions, made from the same table that runs the commands.
import type { Command, Flag } from './command.ts';
import { globalFlags } from './parse.ts';

const flagLine = (flag: Flag): string =>
  `  ${`--${flag.name}${flag.takes === undefined ? '' : ` ${flag.takes}`}`.padEnd(18)} ${flag.says}`;

export function helpText(commands: readonly Command[]): string {
  return [
    "ullage keeps a cocktail bar's specs, pours and counts, and says at closing what is missing and how sure that is.",
    '',
    'ullage                       opens the rooms (needs a terminal)',
    'ullage demo                  the same on an invented house',
    '',
    'Commands',
    ...commands.map((command) => `  ${command.name.padEnd(12)} ${command.says}`),
    '',
    'Flags of all commands',
    ...globalFlags.map(flagLine),
    '',
    'More on one: ullage COMMAND --help',
    '',
  ].join('\n');
}

export function commandHelp(command: Command): string {
  const examples = (command.examples ?? []).map((example) => `  ullage ${example}`);
  return [
    ...(examples.length === 0 ? [] : ['Examples', ...examples, '']),
    'Usage',
    ...command.usage.map((usage) => `  ullage ${usage}`),
    '',
    `It ${command.says}.`.replace(/^It (\w)/, (_, first: string) => first.toUpperCase()),
    '',
    ...[...(command.flags ?? []), ...globalFlags].map(flagLine),
    '',
  ].join('\n');
}

const flagsOf = (command: Command): string[] =>
  [...(command.flags ?? []), ...globalFlags].map((flag) => `--${flag.name}`);

export function completion(shell: 'bash' | 'zsh' | 'fish', commands: readonly Command[]): string {
  const names = commands.map((command) => command.name).join(' ');
  if (shell === 'fish') {
    return [
      ...commands.map(
        (command) =>
          `complete -c ullage -n __fish_use_subcommand -f -a ${command.name} -d '${command.says.replaceAll("'", '')}'`,
      ),
      ...commands.flatMap((command) =>
        flagsOf(command).map(
          (flag) => `complete -c ullage -n '__fish_seen_subcommand_from ${command.name}' -l ${flag.slice(2)}`,
        ),
      ),
      '',
    ].join('\n');
  }
  const cases = commands
    .map((command) => `    ${command.name}) words='${flagsOf(command).join(' ')}' ;;`)
    .join('\n');
  const body = `_ullage() {
  local words='${names}'
  local current="\${COMP_WORDS[COMP_CWORD]}"
  case "\${COMP_WORDS[1]}" in
${cases}
  esac
  [ "$COMP_CWORD" -eq 1 ] && words='${names}'
  COMPREPLY=( $(compgen -W "$words" -- "$current") )
  [ \${#COMPREPLY[@]} -gt 0 ] || COMPREPLY=( $(compgen -f -- "$current") )
}
complete -F _ullage ullage
`;
  return shell === 'bash' ? body : `#compdef ullage\nautoload -U +X bashcompinit && bashcompinit\n${body}`;
}

/** The README's table of commands. */
export function commandTable(commands: readonly Command[]): string {
  const rows = commands.map(
    (command) => `| \`ullage ${(command.usage[0] ?? '').replaceAll('|', '\\|')}\` | ${command.says} |`,
  );
  return ['| command | what it does |', '|---|---|', ...rows].join('\n');
}
