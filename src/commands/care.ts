// check, backup, restore: are the books sound; a safe copy; a copy back.
import { clean } from '../domain/value/text.ts';
import { restoreFrom } from '../store/file/backup.ts';
import { allChecks } from '../store/file/checks.ts';
import { isMark } from '../store/file/log/mark.ts';
import { type Command, flagOf, refused, say, sayJson, usageProblem, withStore } from './line/command.ts';
import { markLine } from './line/mark.ts';

export const check: Command = {
  name: 'check',
  usage: ['check [NAME…] [--mark MARK]'],
  says: `are the books sound? Silent when all is well. Checks: ${allChecks.join(', ')}`,
  flags: [
    {
      name: 'mark',
      takes: 'MARK',
      says: 'do they still hold what a seal or a backup printed this mark of?',
    },
  ],
  run: (context) => {
    const mark = flagOf(context, 'mark')?.trim().toLowerCase();
    if (mark !== undefined && !isMark(mark))
      return usageProblem(
        `"${clean(mark).slice(0, 40)}" is no mark. Give it as a seal or a backup printed it.`,
      );
    const unknown = context.words.find((name) => !allChecks.includes(name));
    if (unknown !== undefined)
      return usageProblem(
        `No check is called "${clean(unknown).slice(0, 40)}". There are ${allChecks.join(', ')}.`,
      );
    return withStore(context, (store) => {
      const findings = store.check(context.words, mark);
      const exit = findings.length === 0 ? 0 : 1;
      if (context.json) return { ...sayJson(findings), exit };
      return {
        exit,
        out: findings.map(({ check, message }) => `${check}: ${clean(message)}\n`).join(''),
        err: '',
      };
    });
  },
};

export const backup: Command = {
  name: 'backup',
  usage: ['backup FILE'],
  says: 'a safe copy of the books, also while they are in use',
  run: (context) => {
    const [file] = context.words;
    if (file === undefined)
      return usageProblem('Name the file to write, as ullage backup books-copy.sqlite.');
    return withStore(context, async (store) => {
      const mark = store.mark();
      const copied = await store.backup(file);
      if (!copied.ok) return refused(copied.problems);
      return context.json
        ? sayJson({ file, mark })
        : say(`Copied the books to ${clean(file)}; the copy was read back and is sound.\n${markLine(mark)}`);
    });
  },
};

export const restore: Command = {
  name: 'restore',
  usage: ['restore FILE'],
  says: 'puts a copy in the place of the books; what stood there is kept beside it',
  run: (context) => {
    const [file] = context.words;
    if (file === undefined) return usageProblem('Name the copy, as ullage restore books-copy.sqlite.');
    const stamp = new Date(context.world.now()).toISOString().replace(/[:.]/g, '-');
    const restored = restoreFrom(file, context.world.dataFolder, stamp);
    if (!restored.ok) return refused(restored.problems);
    const { keptAs } = restored.value;
    if (context.json) return sayJson({ file, keptAs });
    return say(
      `Restored the books from ${clean(file)}.${keptAs === null ? '' : ` What was there is kept as ${clean(keptAs)}.`}`,
    );
  },
};
