// 86 by hand: an item, a card, or what drinks are served with; with why and until when, in sight wherever the drink is.
import { expect, it } from 'vitest';
import { stocked } from '../support/night.ts';
import { roomsAt } from '../support/rooms.ts';

const within = roomsAt({ columns: 120, rows: 30 });

it('is said in the list of what is out, stands in Pour, in the card and in the handover, and goes by hand', async () => {
  const night = await stocked();
  within(night, (at, store) => {
    at.press('ctrl-g', 'lemon juice, wilted', 'enter');
    expect(at.state().message?.text).toContain('Out: Lemon juice, wilted');
    expect(at.screen()).toContain('86  Lemon juice, wilted');
    at.press('lan');
    expect(at.screen()).toMatch(/› Lantern Sour .* out/);
    expect(at.screen()).toMatch(/86: Lemon juice, wilted/);
    // It happened all the same: a pour is recorded.
    at.press('enter');
    expect(at.screen()).toContain('Enter again pours it all the same');
    at.press('enter');
    expect(store.books().shift?.drinks.get('lantern-sour' as never)?.count).toBe(1);
    at.press('ctrl-p', 'enter');
    expect(at.screen()).toContain('86    Lemon juice, wilted');
    at.press('esc', 'ctrl-g');
    expect(at.screen()).toMatch(/› Lemon juice, wilted .*by hand +2/);
    expect(at.screen()).toContain('goes with it: Lantern Sour, Rye Lamp');
    at.press('enter');
    expect(at.state().message?.text).toContain('Back: Lemon juice');
    expect(at.screen()).not.toContain('86  ');
  });
});

it('goes with the seal, or at its time', async () => {
  const night = await stocked();
  await night.ok('out mark', 'lantern sour', '--why', 'no egg cups', '--until', '18:00');
  expect(await night.ok('out')).toContain('Lantern Sour, no egg cups, until 18:00; with it Lantern Sour');
  night.later(31);
  expect(await night.ok('out')).not.toContain('Lantern Sour, no egg cups');
  await night.ok('out mark rye --why', 'wrong bottle');
  await night.ok('close --seal');
  expect(night.books().out.size).toBe(0);
  expect(await night.ok('check')).toBe('');
});

it('takes a word of how drinks are served: no ice stops what takes ice, a glass what is served in it', async () => {
  const night = await stocked();
  await night.ok('out mark', 'no coupe', '--why', 'all broken');
  const [mark] = await night.json<{ word: string; specs: { name: string }[] }[]>('out');
  expect([mark?.word, mark?.specs.map(({ name }) => name)]).toEqual(['coupe', ['Lantern Sour']]);
});

it.each([
  ['out mark samovar --why gone', /samovar/],
  ['out mark rye', /Say why Straight rye is out/],
  ['out mark rye --why gone --until noon', /is no time of the clock/],
  ['out back rye', /Nobody said that Straight rye is out/],
  ['out mark', /Say mark or back/],
])('%s is refused in a sentence, and leaves no trace', async (line, says) => {
  const night = await stocked();
  const { exit, err } = await night.run(line);
  expect([exit === 64 || exit === 65, says.test(err)]).toEqual([true, true]);
  expect(night.books().out.size).toBe(0);
});

it('what a change leaves away is in nobody’s way: no mark on the card, no question, no word of a command', async () => {
  const night = await stocked();
  await night.ok('out mark', 'egg white', '--why', 'cracked');
  within(night, (at, store) => {
    at.press('lan -egg white');
    expect(at.screen()).not.toContain('86: Egg white');
    expect(at.screen()).not.toMatch(/› Lantern Sour .* out/);
    at.press('enter');
    expect(store.books().shift?.drinks.get('lantern-sour' as never)?.count).toBe(1);
  });
  expect(await night.ok('pour', 'lantern sour: -egg white')).not.toContain('marked out');
  expect(await night.ok('pour', 'lantern sour')).toContain('marked out (86): Egg white, cracked');
});
