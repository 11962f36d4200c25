// Every question that stands in front of a room: what it asks, what typing and Backspace do, what its keys answer.
import { expect, it } from 'vitest';
import { answered, isRead } from '../../src/app/question/table.ts';
import type { Dialog } from '../../src/screens/dialog.ts';
import { widthOf } from '../../src/screens/parts/line.ts';
import {
  after,
  all,
  amount,
  answer,
  asked,
  closed,
  correction,
  erased,
  help,
  kin,
  match,
  note,
  open,
  out,
  recorded,
  remark,
  seal,
  sealed,
  stock,
  sure,
  typed,
  who,
  without,
  words,
} from '../support/asked.ts';
import { anItem, eventIdOf } from '../support/shelf.ts';
import { stocks } from '../support/steps.ts';
import { booksAfter } from '../support/told.ts';

it('asks something in every question, within the window, of any books', () => {
  for (const dialog of all)
    for (const columns of [60, 80, 120])
      for (const books of [open, closed, sealed, booksAfter()]) {
        const lines = asked(dialog, books, columns);
        expect(lines.join('').trim(), dialog.kind).not.toBe('');
        expect(lines.length).toBeLessThanOrEqual(22);
        for (const line of lines.slice(2))
          expect(widthOf(line), `${dialog.kind}: ${line}`).toBeLessThanOrEqual(columns);
      }
});

it('takes text only where there is a field, and Backspace takes one letter of it', () => {
  expect(typed(help, 'shift')).toMatchObject({ filter: 'shift' });
  expect(erased({ kind: 'help', filter: 'shi', cursor: 2 })).toMatchObject({ filter: 'sh', cursor: 0 });
  expect(typed(amount('lose', '5'), '0 ml')).toMatchObject({ text: '50 ml' });
  expect(erased(amount('lose', '50'))).toMatchObject({ text: '5' });
  expect(erased(seal(''))).toMatchObject({ text: '' });
  for (const dialog of [who('hand-over', 1), stock(2), note, sure, kin]) {
    expect(typed(dialog, 'x')).toEqual(dialog);
    expect(erased(dialog)).toEqual(dialog);
  }
});

it('keeps a field as long as it can be: a paste is cut', () => {
  const length = (dialog: Dialog | null) => (dialog !== null && 'text' in dialog ? dialog.text.length : -1);
  expect(length(typed(amount('lose', ''), 'x'.repeat(999)))).toBe(40);
  expect(length(typed(seal(''), 'x'.repeat(999)))).toBe(200);
  expect(length(typed(words(remark), 'x'.repeat(999)))).toBe(300);
  expect(typed(help, 'x'.repeat(999))).toMatchObject({ filter: 'x'.repeat(40) });
});

it('moves the mark with the arrows and never off the list', () => {
  expect(after(stock(0), 'up')).toMatchObject({ cursor: 0 });
  expect(after(stock(0), 'down')).toMatchObject({ cursor: 1 });
  expect(after(stock(0), 'end')).toMatchObject({ cursor: 5 });
  expect(after(stock(5), 'down')).toMatchObject({ cursor: 5 });
  expect(after(who('hand-over'), 'pgdn')).toMatchObject({ cursor: 1 });
  expect(after(amount('lose', '5', 4), 'home')).toMatchObject({ choice: 0, text: '5' });
});

it('help: finds a key by what it does, and Enter presses it', () => {
  const found: Dialog = { kind: 'help', filter: 'opens a shift', cursor: 0 };
  expect(asked(found).join('\n')).toContain('opens a shift');
  expect(answer(found, 'enter')).toMatchObject({ press: 'ctrl-o', state: { dialog: null } });
  expect(asked({ kind: 'help', filter: 'zzz', cursor: 0 })).toContain(
    'No key does that. Erase a letter or two.',
  );
  expect(answer({ kind: 'help', filter: 'zzz', cursor: 0 }, 'enter')?.press).toBeUndefined();
  expect(after(help, '?')).toBeNull();
  expect(answer(help, 'q')).toBeNull();
});

it('who: opens a shift by a number or by Enter, and hands over', () => {
  expect(asked(who('open-shift'), closed)[0]).toBe('Open the shift of Fri 20 Nov. Who is pouring?');
  expect(asked(who('hand-over'))[0]).toBe('Who is pouring now? So far Tom.');
  expect(recorded(who('open-shift'), '2', closed)).toMatchObject([{ kind: 'shift-opened', by: 'tom' }]);
  expect(recorded(who('open-shift'), 'enter', closed)).toMatchObject([{ by: 'ines' }]);
  expect(recorded(who('hand-over'), '1')).toMatchObject([{ kind: 'handed-over', to: 'ines' }]);
  expect(recorded(who('hand-over'), '9')).toBe('nothing');
  expect(after(who('hand-over'), '9')).toEqual(who('hand-over'));
  const nobody = booksAfter(stocks(anItem('gin')));
  expect(asked(who('open-shift'), nobody)).toContain('› nobody named');
  expect(recorded(who('open-shift'), 'enter', nobody)).toMatchObject([{ kind: 'shift-opened', by: null }]);
});

it('stock: each line leads where it says', () => {
  expect(asked(stock(0))[0]).toBe('Dry gin at bar');
  expect(recorded(stock(1), 'enter')).toBe('nothing');
  expect([1, 2, 3].map((row) => after(stock(row), 'enter'))).toMatchObject([
    { kind: 'amount', what: 'lose', item: 'gin', place: 'bar' },
    { kind: 'amount', what: 'receive' },
    { kind: 'amount', what: 'move' },
  ]);
  expect(after(stock(4), 'enter')).toMatchObject({ kind: 'look', at: { what: 'without', item: 'gin' } });
  expect(answer(stock(5), 'enter')?.state).toMatchObject({ room: 'count', dialog: null });
  expect(answer(stock(0), 'enter')?.effects).toHaveLength(1);
  expect(after(stock(0), 'x')).toEqual(stock(0));
});

it('amount: reads a loss in ml, a delivery in bottles with their cost, a move to a place', () => {
  expect(recorded(amount('lose', '50'), 'enter')).toMatchObject([
    { kind: 'stock-lost', amount: 50_000, why: 'spill' },
  ]);
  expect(recorded(amount('lose', '5 cl', 1), 'enter')).toMatchObject([{ amount: 50_000, why: 'breakage' }]);
  expect(recorded(amount('receive', '6 at 18.90'), 'enter')).toMatchObject([
    { kind: 'delivery-received', containers: 6, amount: 4_200_000, costMinor: 1890 },
  ]);
  expect(recorded(amount('receive', '2'), 'enter')).toMatchObject([{ costMinor: null }]);
  expect(recorded(amount('move', '1'), 'enter')).toMatchObject([
    { kind: 'stock-moved', from: 'bar', to: 'cellar' },
  ]);
  expect(recorded(amount('move', '1 to attic'), 'enter')).toMatchObject([{ to: 'attic' }]);
});

it('amount: refuses what is none, with how to write it, and waits until it is on disk', () => {
  expect(recorded(amount('lose', 'some'), 'enter')).toBe(
    '"some" is not an amount of Dry gin. Write 50 ml or 1 bottle.',
  );
  expect(recorded(amount('lose', '50 ml', 0, 'egg'), 'enter')).toBe(
    '"50 ml" is not an amount of Egg. Write 2.',
  );
  expect(recorded(amount('receive', '6 at much'), 'enter')).toBe(
    '"much" is not an amount of EUR. Write 6 at 18.90.',
  );
  expect(recorded(amount('lose', '5', 0, 'absent'), 'enter')).toMatch(/^That item is gone/);
  const asking = answer(amount('lose', '50'), 'enter')?.state;
  expect(asking?.dialog).toEqual(amount('lose', '50'));
  expect(asking === undefined ? '' : answered(asking).dialog).toBeNull();
  // What is only read stays: another hand's pour must not close it.
  expect(asking === undefined ? null : answered({ ...asking, dialog: note }).dialog).toEqual(note);
  expect(answer(amount('lose', '50'), '7')).toBeNull();
  expect(asked(amount('receive', '')).join('\n')).toContain('last 21.00');
});

it('seal: only by the word, by who is pouring unless another is marked', () => {
  const left = answer(seal('yes'), 'enter');
  expect([left?.effects, left?.state.message?.tone, left?.state.dialog?.kind]).toEqual([
    [],
    'refused',
    'seal',
  ]);
  expect(recorded(seal(' SEAL '), 'enter')).toMatchObject([{ kind: 'shift-sealed', by: 'tom' }]);
  expect(recorded(seal('seal', 1), 'enter')).toMatchObject([{ by: 'ines' }]);
  expect(asked(seal('')).join(' ')).toMatch(/items? are not counted/);
  expect(answer(seal('sea'), 'l')).toBeNull();
});

it('sure: y takes that one back, n leaves it, anything else asks on', () => {
  expect(answer(sure, 'y')?.effects).toEqual([{ type: 'take-back', target: eventIdOf(7) }]);
  expect(after(sure, 'y')).toBeNull();
  expect([answer(sure, 'n')?.effects, after(sure, 'n')]).toEqual([[], null]);
  for (const key of ['enter', 'x', 'Y']) {
    expect(answer(sure, key)?.effects).toEqual([]);
    expect(after(sure, key)).toEqual(sure);
  }
});

it('note and look: Enter goes on, any other key is the room’s again', () => {
  for (const dialog of [note, kin, without]) {
    expect(after(dialog, 'enter')).toBeNull();
    expect(answer(dialog, 'enter')?.press).toBeUndefined();
    expect(answer(dialog, '2')).toMatchObject({ press: '2', state: { dialog: null } });
  }
  expect(asked(note)[0]).toBe('While you were away');
  expect([isRead(kin), isRead(note), isRead(stock(0)), isRead(out)]).toEqual([true, true, false, false]);
});

it('words: writes a note, corrects a sealed report, matches a name of the till', () => {
  expect(recorded(words(remark, 'quiet night'), 'enter')).toMatchObject([
    { kind: 'note-written', text: 'quiet night', item: null },
  ]);
  expect(recorded(words(correction, '700 ml delivery note found'), 'enter', sealed)).toMatchObject([
    { kind: 'report-corrected', what: 'received', amount: 700_000, why: 'delivery note found' },
  ]);
  expect(recorded(words(correction, '-60 ml spilled', 2), 'enter', sealed)).toMatchObject([
    { what: 'lost', amount: -60_000 },
  ]);
  expect(recorded(words(correction, 'found'), 'enter', sealed)).toMatch(/^Write the amount first/);
  // Nearest to the name of the till stands first.
  expect(recorded(words(match), 'enter')).toMatchObject([
    { kind: 'till-name-matched', drink: 'JETTI', spec: 'jetty' },
  ]);
  expect(recorded(words(match, 'quay'), 'enter')).toMatchObject([{ spec: 'quay' }]);
});

it('words: nothing of ours is offered to an empty field only, and no find means nothing', () => {
  expect(asked(words(match)).join('\n')).toContain('nothing we pour');
  expect(asked(words(match, 'quay')).join('\n')).not.toContain('nothing we pour');
  const many = asked(words(match)).filter((line) => /^[› ] \S/.test(line)).length;
  expect(recorded(words(match, '', many - 1), 'enter')).toMatchObject([{ spec: null }]);
  expect(recorded(words(match, 'zzzzqqqq'), 'enter')).toBe(
    'Nothing is called "zzzzqqqq". Erase a letter or two.',
  );
  expect(typed(words(match, '', 2), 'q')).toMatchObject({ choice: 0 });
  expect(typed(words(correction, '', 2), '7')).toMatchObject({ choice: 2 });
});
