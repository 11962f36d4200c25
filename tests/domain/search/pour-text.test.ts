// What is typed to pour, read by the rooms and by the command alike: names first, then numbers, changes and moments.
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { Books } from '../../../src/domain/ledger/books.ts';
import { readRound } from '../../../src/domain/search/pour-text.ts';
import { furnished, type Night } from '../../support/night.ts';
import { openRooms } from '../../support/rooms.ts';

const odd = `# 20th Century
30 ml dry gin
# 3 Dots
20 ml dry gin
# No Reservations
25 ml rye
# Door, Ajar
40 ml dry gin
1 egg white
# Top Hat
30 ml rye
`;
const fruit =
  'id,name,kind,size,yields\nlime,Lime,fruit,1 each,25 ml juice|8 wedge\nvodka,Vodka,spirit,700 ml,\n';

async function house(): Promise<Night> {
  const night = await furnished();
  const file = (name: string, text: string): string => {
    writeFileSync(join(night.folder, name), text);
    return join(night.folder, name);
  };
  await night.ok('import', file('odd.txt', odd), file('fruit.csv', fruit));
  await night.ok('open --by Ines');
  night.later(60);
  return night;
}

/** Names and counts, with what else was said. */
const read = (books: Books, text: string) =>
  readRound(text, books).map(({ count, text: name, measure, changes, when }) =>
    [
      count,
      measure === null ? '' : `${measure.quantity} ${measure.unit} of`,
      name,
      ...changes,
      when === null ? '' : JSON.stringify(when),
    ]
      .filter((part) => part !== '')
      .join(' '),
  );

describe('what is typed to pour', () => {
  it.each([
    ['20th century', ['1 20th century']],
    ['3 dots', ['1 3 dots']],
    ['2 3 dots', ['2 3 dots']],
    ['3 lan', ['3 lan']],
    ['no reservations', ['1 no reservations']],
    ['door, ajar', ['1 door, ajar']],
    ['2 door, ajar, 1 rye lamp', ['2 door, ajar', '1 rye lamp']],
    ['2 lan, 1 rye', ['2 lan', '1 rye']],
    ['2 lan,1 rye', ['2 lan', '1 rye']],
    ['lan,', ['1 lan']],
    [',lan', ['1 lan']],
    ['2, lan', ['2', '1 lan']],
    ['2 x lan', ['2 lan']],
    ['22.5 ml gin', ['1 22.5 ml of gin']],
    ['1,5 oz gin', ['1 1,5 oz of gin']],
    ['1 1/2 oz gin', ['1 1 1/2 oz of gin']],
    ['2 x 25 ml vodka', ['2 25 ml of vodka']],
    ['2 top hat', ['2 top hat']],
    ['lan -egg white', ['1 lan -egg white']],
    ['lan: -egg white +10ml lemon juice', ['1 lan -egg white +10ml lemon juice']],
    ['lan: double', ['1 lan double']],
    ['lan gin->rye', ['1 lan gin->rye']],
    ['2 lantern sour dry gin->rye', ['2 lantern sour dry gin->rye']],
    ['lan dry gin -> rye', ['1 lan dry gin -> rye']],
    ['lan gin=45ml', ['1 lan gin=45ml']],
    ['lan: gin->rye', ['1 lan gin->rye']],
    ['lan -egg white: gin->rye', ['1 lan -egg white gin->rye']],
    ['lan -egg white: double', ['1 lan -egg white double']],
    ['nowhere gin->rye', ['1 nowhere gin->rye']],
    ['lan 40 ago', ['1 lan {"ago":40}']],
    ['lan 1 h ago', ['1 lan {"ago":60}']],
    ['lan at 22:40', ['1 lan {"clock":"22:40"}']],
    ['2 rye, 1 lan 3 min ago', ['2 rye {"ago":3}', '1 lan {"ago":3}']],
    ['2 rye 20 ago, 1 lan 3 ago', ['2 rye {"ago":20}', '1 lan {"ago":3}']],
    ['', ['1']],
  ])('%s', async (text, said) => {
    expect(read((await house()).books(), text)).toEqual(said);
  });
});

/** What the last event is, in the words of the log. */
const last = async (night: Night): Promise<string> =>
  (await night.json<{ text: string }[]>('log --last 1'))[0]?.text ?? '';

describe('the same in both', () => {
  it.each([
    ['20th century', 'Poured 1 20th Century'],
    ['3 dots', 'Poured 1 3 Dots'],
    ['no reservations', 'Poured 1 No Reservations'],
    ['22.5 ml dry gin', 'Poured 22.5 ml Dry gin'],
    ['1 1/2 oz dry gin', 'Poured 44.4 ml Dry gin'],
    ['2 x 25 ml vodka', 'Poured 2 × 25 ml Vodka'],
    ['20 ml lime juice', 'Poured 0.8 Lime'],
    ['lantern sour no egg white', 'Poured 1 Lantern Sour, with -egg white'],
    ['lantern sour -egg white', 'Poured 1 Lantern Sour, with -egg white'],
    ['lantern sour gin->rye', 'Poured 1 Lantern Sour, with gin->rye'],
    ['lantern sour -egg white: double', 'Poured 1 Lantern Sour, with -egg white, double'],
    ['lantern sour 40 ago', 'Poured 1 Lantern Sour'],
  ])('%s', async (text, said) => {
    const byCommand = await house();
    await byCommand.ok('pour', text);
    const inRooms = await house();
    inRooms.store((store) => {
      const at = openRooms(store, inRooms.world.now);
      at.press(text, 'enter');
    });
    expect([await last(byCommand), await last(inRooms)]).toEqual([said, said]);
    const moment = async (night: Night) => (await night.json<{ at: string }[]>('log --last 1'))[0]?.at;
    expect(await moment(byCommand)).toBe(await moment(inRooms));
  });

  it('by the clock on the wall, and never ahead of it', async () => {
    const night = await house();
    await night.ok('house zone Europe/London');
    await night.ok('pour', 'rye lamp at 17:30');
    expect((await night.json<{ at: string }[]>('log --last 1'))[0]?.at).toBe('2026-11-20T17:30:00.000Z');
    // 23:00 was yesterday, before the shift.
    expect((await night.run('pour', 'rye lamp at 23:00')).err).toMatch(
      /No shift was open at that moment: it is read as Thu 19 Nov 23:00, and this one opened Fri 20 Nov 17:00/,
    );
  });
});

describe('in the Pour room', () => {
  const within = async (work: (at: ReturnType<typeof openRooms>, night: Night) => void): Promise<Night> => {
    const night = await house();
    night.store((store) => work(openRooms(store, night.world.now, { columns: 100, rows: 30 }), night));
    return night;
  };
  const poured = (at: ReturnType<typeof openRooms>): number => at.state().books.shift?.recent.length ?? 0;

  it('an empty part of a round pours nothing', async () => {
    await within((at) => {
      at.press('2, lan', 'enter');
      expect(at.screen()).toContain('A part of the round is empty');
      expect(poured(at)).toBe(0);
    });
  });

  it('a guess that only comes near is marked, and needs a second Enter', async () => {
    await within((at) => {
      at.press('lnatern', 'enter');
      expect(at.screen()).toContain('≈ Lantern Sour');
      expect(at.screen()).toContain('Nothing is called "lnatern"');
      expect(poured(at)).toBe(0);
      at.press('enter');
      expect(at.screen()).toContain('Poured 1 Lantern Sour');
    });
  });

  it('^R pours the round again, changes and straight measures among it; ^U takes it back as one', async () => {
    const night = await within((at) => {
      at.press('2 lan -egg white, 1 rye lamp, 45 ml dry gin', 'enter');
      expect(at.state().message?.text).toContain('^U takes it back.');
      expect(poured(at)).toBe(3);
      at.press('ctrl-r');
      expect(poured(at)).toBe(6);
      const [, , , sour, lamp, gin] = at.state().books.shift?.recent ?? [];
      expect([sour?.count, sour?.changes, lamp?.text, gin?.straight?.amount]).toEqual([
        2,
        ['-egg white'],
        'Rye Lamp',
        45_000,
      ]);
      at.press('ctrl-u');
      expect(poured(at)).toBe(3);
      expect(at.screen()).toContain('Took back: Poured 2 Lantern Sour');
      at.press('ctrl-u');
      expect(poured(at)).toBe(0);
    });
    expect(await night.ok('check')).toBe('');
  });

  it('two taps in the same instant are two pours, each taken back by itself', async () => {
    await within((at) => {
      at.press('rye lamp', 'enter', 'rye lamp', 'enter', 'ctrl-u');
      expect(poured(at)).toBe(1);
    });
  });
});
