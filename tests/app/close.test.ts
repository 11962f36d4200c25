// The Close room: who poured and what was not sold, first counts, notes, who seals, and corrections of what is sealed.
import { describe, expect, it } from 'vitest';
import { furnished, late } from '../support/night.ts';
import { roomsAt } from '../support/rooms.ts';

const within = roomsAt({ columns: 120, rows: 40 });

describe('the Close room', () => {
  it('says who poured, what was not sold, and each purpose on a line of its own', async () => {
    const night = await late();
    await night.ok('count rye 1.0');
    within(night, (at) => {
      at.press('tab', 'tab', 'tab');
      expect(at.screen()).toMatch(/^1 comp, .* at cost/m);
      expect(at.screen()).toMatch(/^pour cost [\d.]+ %, cost of drinks poured +$/m);
      at.press('enter');
      expect(at.screen()).toMatch(/in Rye Lamp 360 ml; poured by Ines 300 ml, Tom 60 ml; of it comp 60 ml/);
    });
  });

  it('a first count is a first count, not one that is missing', async () => {
    const night = await furnished();
    await night.ok('open --by Ines');
    await night.ok('count dry-gin 2.0');
    within(night, (at) => {
      at.press('tab', 'tab', 'tab');
      expect(at.screen()).toMatch(/Dry gin .*first count/);
    });
    expect(await night.ok('close')).toContain(
      'counted for the first time, nothing to compare with yet: Dry gin',
    );
  });

  it('writes notes, sends late entries to the Pour room, and seals by the one chosen', async () => {
    const night = await late();
    within(night, (at, store) => {
      at.press('tab', 'tab', 'tab', 'ctrl-w', 'ice machine out from nine', 'enter');
      expect(at.screen()).toContain('note 18:30 Ines: ice machine out from nine');
      at.press('ctrl-e');
      expect(at.state().message?.text).toContain('This shift is not sealed');
      at.press('ctrl-l');
      expect([at.state().room, at.screen().includes('lan 40 ago')]).toEqual(['pour', true]);
      at.press('rye 20 ago', 'enter');
      expect(store.books().shift?.drinks.get('rye-lamp' as never)?.count).toBe(7);
      at.press('tab', 'tab', 'tab', 'ctrl-x', 'down', 'seal', 'enter');
      expect(store.books().shift?.sealedBy).toBe('tom');
      expect(at.state().message?.text).toContain(`Mark, to be kept elsewhere: ${store.mark()}.`);
      expect(at.screen()).toContain('by Tom');
    });
  });

  it('corrects a sealed report and keeps both figures in sight', async () => {
    const night = await late();
    await night.ok('count rye 0.8');
    await night.ok('close --seal --by Mara');
    night.later(30);
    within(night, (at, store) => {
      at.press('tab', 'tab', 'tab');
      while (!/› Straight rye/.test(at.screen())) at.press('down');
      at.press('ctrl-e');
      expect(at.screen()).toContain('today');
      at.press('down', '60 ml a ticket was found', 'enter');
      expect(at.state().message?.text).toContain(
        'Corrected a sealed report: Straight rye, poured +60 ml (a ticket was found)',
      );
      expect(at.screen()).toMatch(/\* 130 ml missing ±58/);
      expect(at.screen()).toMatch(
        /corrected after the seal: 70 ml missing ±58, likely; as sealed 130 ml missing ±58/,
      );
      at.press('ctrl-e', 'words only', 'enter');
      expect(at.state().message?.text).toContain('Write the amount first, then why');
      at.press('esc', 'ctrl-u');
      expect(at.screen()).not.toContain('corrected after');
      expect(store.books().stock.get('rye\nbar')?.amount).toBe(560_000);
    });
  });
});

it('shows all of the totals in the smallest window, to their last line', async () => {
  const night = await late();
  await night.ok('lose', '1 bottle dry gin', '--why', 'breakage');
  await night.ok('count dry-gin 1.0');
  roomsAt({ columns: 60, rows: 16 })(night, (at) => {
    at.press('tab', 'tab', 'tab', '=');
    expect(at.screen()).toContain('pour cost ');
    const seen = [at.screen()];
    for (let step = 0; step < 40; step += 1) {
      at.press('down');
      seen.push(at.screen());
    }
    for (const text of ['lost ', 'breakage', 'what to do', 'no drink drew on it; lost to breakage 700 ml'])
      expect(seen.join('\n')).toContain(text);
    at.press('enter');
    expect(at.screen()).toMatch(/\[Close\]/);
  });
});
