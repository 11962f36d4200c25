// Any past night, and any stretch, in the Close room: typed by its date, or chosen from the list.
import { expect, it } from 'vitest';
import { type Night, stocked } from '../support/night.ts';
import { roomsAt } from '../support/rooms.ts';

const within = roomsAt({ columns: 120, rows: 40 });

/** Two sealed nights, the first with gin missing, and an open one. */
async function three(): Promise<Night> {
  const night = await stocked();
  await night.ok('pour 2 lantern-sour');
  night.later(60);
  await night.ok('count dry-gin 1.5');
  await night.ok('close --seal --by Mara');
  night.later(23 * 60);
  await night.ok('open --by Tom');
  await night.ok('pour 3 rye-lamp');
  night.later(60);
  await night.ok('count rye 1.2');
  await night.ok('close --seal --by Tom');
  night.later(23 * 60);
  await night.ok('open --by Ines');
  await night.ok('pour 1 gin-straight');
  return night;
}

it('a typed date opens that night with its own figures; Esc goes back to the one that is open', async () => {
  const night = await three();
  within(night, (at) => {
    at.press('tab', 'tab', 'tab');
    expect(at.screen()).toMatch(/^Sun 22 Nov 2026, open · 1 drink/m);
    at.press('20 nov');
    expect(at.screen()).toContain('Which night?');
    expect(at.screen()).toMatch(/› Fri 20 Nov 2026/);
    at.press('enter');
    expect(at.screen()).toMatch(/^Fri 20 Nov 2026, sealed 18:30 by Mara · 2 drinks/m);
    expect(at.screen()).toMatch(/› Dry gin .*230 ml missing/);
    // What is done is done in the night that is open.
    at.press('enter');
    expect(at.screen()).toContain('This is a past night');
    at.press('ctrl-x');
    expect(at.screen()).toContain('This is a past night');
    at.press('esc');
    expect(at.screen()).toMatch(/^Sun 22 Nov 2026, open · 1 drink/m);
  });
});

it('arrows choose, a stretch is two dates or the last so many', async () => {
  const night = await three();
  within(night, (at) => {
    at.press('tab', 'tab', 'tab', '2026', 'down', 'enter');
    expect(at.screen()).toMatch(/^Sat 21 Nov 2026, sealed/m);
    at.press('2026-11-20 to 21 nov', 'enter');
    expect(at.screen()).toMatch(/^2026-11-20 to 2026-11-21, 2 shifts, the last one sealed .* 5 drinks/m);
    at.press('last 3', 'enter');
    expect(at.screen()).toMatch(/^2026-11-20 to 2026-11-22, 3 shifts, the last one open · 6 drinks/m);
    at.press('ctrl-w');
    expect(at.screen()).toContain('A note is on one night: type its date.');
    at.press('31 feb', 'enter');
    expect(at.screen()).toContain('No shift was on');
  });
});

it('a past night takes notes and corrections of its own, and shows both figures', async () => {
  const night = await three();
  within(night, (at, store) => {
    at.press('tab', 'tab', 'tab', '20 nov', 'enter');
    at.press('ctrl-w', 'two bottles lent out', 'enter');
    expect(at.screen()).toContain('two bottles lent out');
    at.press('ctrl-e', 'down', '-700 ml lent', 'enter');
    expect(at.state().message?.tone).toBe('done');
    expect(at.screen().replace(/\s+/g, ' ')).toMatch(/corrected after the seal: .* as sealed 230 ml missing/);
    const [first] = store.shifts();
    const remarks = store.remarks([first?.id ?? '']);
    expect(remarks.map(({ kind }) => kind).sort()).toEqual(['note-written', 'report-corrected']);
  });
});

it('a day and a month in either order, and two dates with nothing between them', async () => {
  const night = await three();
  within(night, (at) => {
    at.press('tab', 'tab', 'tab', 'nov 20', 'enter');
    expect(at.screen()).toMatch(/Fri 20 Nov 2026, sealed/);
    at.press('esc', '2026-11-20 2026-11-21', 'enter');
    expect(at.screen()).toMatch(/2026-11-20 to 2026-11-21, 2 shifts/);
    at.press('esc', '31 feb', 'enter');
    expect(at.state().message?.text).toContain(
      'The last one was on Sun 22 Nov; a stretch is written 2026-11-01 to 2026-11-20, or last 7.',
    );
  });
});
