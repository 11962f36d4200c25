// One key for a guest who asks: what a drink or a round contains, what it may, and of what nobody knows.
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { type Night, stocked } from '../support/night.ts';
import { roomsAt } from '../support/rooms.ts';

const within = roomsAt({ columns: 100, rows: 30 });

async function withWine(): Promise<Night> {
  const night = await stocked();
  const file = join(night.folder, 'w.csv');
  writeFileSync(
    file,
    'id,name,kind,size,allergens,caution\nwhite,White,wine,750 ml,sulphites,\norgeat,Orgeat,syrup,700 ml,,\nover,Overproof,spirit,700 ml,,keep from flame\n',
  );
  await night.ok('import', file);
  return night;
}

it('of a round, drink by drink, as it is wanted', async () => {
  const night = await withWine();
  within(night, (at) => {
    at.press('2 lan, 1 rye, 150 ml white, 20 ml orgeat', '!');
    const said = at.screen();
    expect(said).toMatch(/Lantern Sour +\n {2}contains eggs +\n {2}nothing is noted of Dry gin, Lemon juice/);
    expect(said).toMatch(/Rye Lamp +\n {2}contains nothing that is noted/);
    expect(said).toMatch(/150 ml White +\n {2}contains sulphites/);
    expect(said).toMatch(
      /20 ml Orgeat +\n {2}contains nothing that is noted +\n {2}may contain nuts: ask the label/,
    );
    expect(said).not.toMatch(/free/);
    // The round still stands where it stood.
    at.press('esc');
    expect(at.screen()).toContain('2 lan, 1 rye');
    at.press('esc', 'lan -egg white', '!');
    expect(at.screen()).toMatch(/Lantern Sour +\n {2}contains nothing that is noted/);
    // A part nobody understands is no part to be silent about.
    at.press('esc', 'esc', 'rye, blorp', '!');
    expect(at.screen()).toMatch(/blorp +\n {2}not understood: nothing is known of it, ask the label/);
    at.press('esc', 'esc', '!');
    expect(at.state().message?.text).toBe('Type a drink or a round first.');
  });
});

it('stands in the card and in the panel of a straight measure, too', async () => {
  const night = await withWine();
  within(night, (at) => {
    at.press('150 ml white');
    expect(at.screen()).toContain('contains sulphites');
    at.press('esc', '25 ml over');
    expect(at.screen()).toContain('! keep from flame');
    at.press('esc', '1 lan, 150 ml white');
    expect(at.screen()).toContain('contains eggs (Lantern Sour), sulphites (White)');
  });
});
