// A house from an empty screen, without leaving the rooms: every answer is on disk at once, and it goes on where it was left.
import { describe, expect, it } from 'vitest';
import { picture } from '../../src/app/picture.ts';
import { createApp } from '../../src/app/run.ts';
import { plainText, widthOf } from '../../src/screens/parts/line.ts';
import type { Size } from '../../src/screens/room.ts';
import type { Store } from '../../src/store/store.ts';
import { type Night, openNight } from '../support/night.ts';
import { type Rooms, roomsOn } from '../support/rooms.ts';

const machine = { zone: 'Europe/London', user: 'Ines' };

const begun = (
  night: Night,
  work: (at: Rooms, store: Store) => void,
  size: Size = { columns: 100, rows: 30 },
  where = machine,
): void =>
  night.store((store) =>
    work(roomsOn(createApp(store, night.world.now, size, () => undefined, { machine: where })), store),
  );

const answers = ['The Slack Tide', 'enter', 'enter', 'enter', 'enter', 'enter'];

describe('the first start', () => {
  it('offers what the computer knows, and keeps every answer at once', () => {
    const night = openNight();
    begun(night, (at, store) => {
      expect(at.screen()).toContain('What is the house called?  1 of 8');
      at.press('The Slack Tide', 'enter');
      expect(store.books().settings.get('name')).toBe('The Slack Tide');
      expect(at.screen()).toContain('› Europe/London');
      at.press('enter');
      expect(at.screen()).toContain('› GBP  British Pound');
      at.press('enter');
      expect(at.screen()).toContain('› millilitres');
      at.press('enter');
      expect(at.screen()).toContain('Enter alone: Ines');
      at.press('enter');
      expect([...store.books().settings]).toEqual([
        ['name', 'The Slack Tide'],
        ['zone', 'Europe/London'],
        ['currency', 'GBP'],
        ['units', 'ml'],
      ]);
      // Nobody set the ounce: by the zone its pint is the imperial one.
      expect(store.books().house.ounce).toBe('imperial');
      expect([...store.books().people.keys()]).toEqual(['ines']);
      expect(at.screen()).toContain('6 of 8');
    });
    // Left and come back to: it goes on there.
    begun(night, (at) => expect(at.screen()).toContain('What stands behind your bar?  6 of 8'));
  });

  it('in the USA it is dollars, ounces and 750 ml; the bottle in London holds 700', () => {
    begun(
      openNight(),
      (at, store) => {
        at.press(...answers, 'gin', ' ');
        expect(store.books().house).toMatchObject({ currency: 'USD', units: 'oz', ounce: 'us' });
        expect(store.books().items.get('dry-gin' as never)).toMatchObject({
          sizeText: '750 ml',
          size: 750_000,
        });
      },
      { columns: 80, rows: 24 },
      { zone: 'America/New_York', user: 'Tom' },
    );
    begun(openNight(), (at, store) => {
      at.press(...answers, 'gin', ' ');
      expect(store.books().items.get('dry-gin' as never)?.sizeText).toBe('700 ml');
    });
  });

  it('what the screen says of ^U is so: an answer is taken back, and asked again', () => {
    begun(openNight(), (at, store) => {
      at.press('The Slack Tide', 'enter', 'enter');
      expect(at.state().message?.text).toContain('^U takes it back');
      at.press('ctrl-u');
      expect(at.state().message?.text).toContain('Took back: Set zone');
      expect([...store.books().settings.keys()]).toEqual(['name']);
      expect(at.screen()).toContain('Which clock does it go by?');
    });
  });

  it('ticks by typing and Space; the price and the name of the last are typed on the spot', () => {
    begun(openNight(), (at, store) => {
      at.press(...answers, 'gin', ' ', '18.50', 'enter', '=Harbour gin', 'enter');
      const gin = store.books().items.get('dry-gin' as never);
      expect(gin).toMatchObject({ name: 'Harbour gin', costMinor: 1850, also: ['gin', 'Dry gin'] });
      // What is on the way to a name, or to one of one's own, is not ticked by its space.
      for (const name of ['blue curaçao', 'Blue Gum Cordial', 'coconut milk', 'egg yolk']) {
        const before = store.books().items.size;
        at.press(name);
        expect([name, store.books().items.size]).toEqual([name, before]);
        at.press('esc');
      }
      at.press('egg', ' ');
      expect(at.state().message?.text).toContain('Enter ticks what is marked');
      at.press('esc');
      // "lemon" may be vodka or juice: a space belongs to the name there.
      at.press('lemon juice', ' ');
      expect([...store.books().items.keys()]).toEqual(['dry-gin', 'lemon-juice']);
      // Typed again it stays; unticked is only what is marked by hand.
      at.press('gin', ' ');
      expect(store.books().items.get('dry-gin' as never)?.retired).toBeUndefined();
      at.press('down', ' ');
      expect(store.books().items.get('dry-gin' as never)?.retired).toBe(true);
      at.press(' ');
      expect(store.books().items.get('dry-gin' as never)?.retired).toBeUndefined();
      at.press('12.3.4', 'enter');
      expect(at.state().message?.text).toContain('is not an amount of GBP');
      // What was refused leaves the field.
      at.press('lime juice', 'enter');
      expect(store.books().items.has('lime-juice' as never)).toBe(true);
      // ^U takes back the last tick.
      at.press('ctrl-u');
      expect(store.books().items.has('lime-juice' as never)).toBe(false);
    });
  });

  it('offers the published specs that can be made, and writes own ones; then counts', () => {
    begun(openNight(), (at, store) => {
      at.press(...answers);
      for (const word of ['gin', 'red bitter', 'sweet red', 'rye whiskey']) at.press(word, 'enter');
      at.press('enter');
      expect(at.screen()).toContain('What do you pour?');
      expect(at.screen()).toMatch(/· Negroni[\s\S]*14 more published ones/);
      expect(at.screen()).not.toContain('Daiquiri');
      at.press('neg', ' ', '12.50', 'enter');
      expect(store.books().specs.get('negroni' as never)).toMatchObject({
        priceMinor: 1250,
        tags: ['published'],
      });
      at.press('grey heron', 'ctrl-n', '40 ml rye', 'enter', '10 ml red bitter', 'enter', 'enter');
      expect([...store.books().specs.keys()]).toEqual(['negroni', 'grey-heron']);
      at.press('enter', 'enter');
      expect([at.state().room, at.screen().includes('0 of 4 counted')]).toEqual(['count', true]);
      // The house stands: Begin is no more in the walk of Tab.
      for (let press = 0; press < 9; press += 1) {
        at.press('tab');
        expect(at.state().room).not.toBe('begin');
      }
    });
  });

  it('going back shows what was answered, Enter keeps it; who is there stays', () => {
    begun(openNight(), (at, store) => {
      at.press('The Heron', 'enter', 'esc');
      expect(at.screen()).toContain('Enter alone: The Heron');
      at.press('enter');
      expect(store.books().settings.get('name')).toBe('The Heron');
      at.press('enter', 'enter', 'down', 'enter', 'esc');
      expect(at.screen()).toContain('› centilitres');
      at.press('enter', 'Nora, Ben, Nora', 'enter', 'esc');
      expect(at.screen()).toContain('Enter alone: Nora, Ben');
      at.press('enter', 'esc', 'Nora, Cy', 'enter', 'esc', '-5', 'enter');
      expect([...store.books().people.keys()]).toEqual(['nora', 'ben', 'cy']);
      expect(at.state().message?.tone).toBe('refused');
    });
  });

  it('a price is of what was ticked last, never of what was refused or written by hand after it; and it says whose', () => {
    begun(openNight(), (at, store) => {
      const cost = (id: string) => store.books().items.get(id as never)?.costMinor;
      at.press(...answers, 'tonic water', ' ', '1.20', 'enter');
      expect(at.state().message?.text).toContain('Tonic water, 1 l · 1.20: ticked');
      at.press('nosuchbitters', 'enter', '12', 'enter');
      expect([cost('tonic-water'), at.state().message?.tone]).toEqual([120, 'refused']);
      at.press('esc', 'gin', ' ', 'Oat Syrup', 'ctrl-n', 'esc', '9', 'enter');
      expect([cost('dry-gin'), at.state().message?.tone]).toEqual([null, 'refused']);
    });
  });

  it('two words are typed as they are, also where the first is another name of the same', () => {
    begun(openNight(), (at, store) => {
      at.press(...answers);
      for (const name of ['tonic water', 'soda water', 'fino sherry', 'lime juice', 'ginger beer']) {
        at.press(name);
        expect([name, at.screen().includes(`▸ ${name}`)]).toEqual([name, true]);
        at.press(' ');
      }
      expect([...store.books().items.keys()]).toEqual([
        'tonic-water',
        'soda-water',
        'fino-sherry',
        'lime-juice',
        'ginger-beer',
      ]);
    });
  });

  it('what was refused makes way; a price may have the sign of its currency; half an item goes on', () => {
    begun(openNight(), (at, store) => {
      at.press(...answers, 'nosuchthing', 'enter', 'gin', ' ', '£18.50', 'enter');
      expect(store.books().items.get('dry-gin' as never)?.costMinor).toBe(1850);
      at.press('Oat Syrup', 'ctrl-n', 'syrup', 'esc', 'ctrl-n');
      expect(at.screen()).toContain('kind: syrup');
    });
    // One tick, left and come back to: nobody said that this is all.
    const night = openNight();
    begun(night, (at) => at.press(...answers, 'gin', ' '));
    begun(night, (at) => expect(at.screen()).toContain('What stands behind your bar?  6 of 8'));
  });

  it('Esc goes a question back, an answer left as it is goes on, and one that is mended is kept', () => {
    begun(openNight(), (at, store) => {
      at.press('The Slack Tide', 'enter', 'enter', 'enter', 'esc', 'esc');
      expect(at.screen()).toContain('Which clock does it go by?');
      at.press('berlin');
      expect(at.screen()).toContain('› Europe/Berlin');
      at.press('enter');
      expect(at.screen()).toContain('› GBP');
      at.press('eur', 'home');
      at.press('enter', 'enter', 'enter');
      expect(store.books().house).toMatchObject({ zone: 'Europe/Berlin', currency: 'EUR' });
      at.press('nothing is called so', 'enter');
      expect(at.state().message?.tone).toBe('refused');
    });
  });

  it('fits every window, whatever is asked', () => {
    for (const [columns, rows] of [
      [60, 16],
      [80, 24],
      [120, 40],
      [200, 50],
    ] as const)
      begun(
        openNight(),
        (at) => {
          const look = (): void => {
            const screen = picture(at.state());
            expect(screen).toHaveLength(rows);
            for (const content of screen) expect(widthOf(plainText(content))).toBe(columns);
            // The marked row is in sight, where there are rows.
            if (!/House|Who are you|called/.test(at.screen())) expect(at.screen()).toMatch(/^› /m);
          };
          for (const key of answers) {
            at.press(key);
            look();
          }
          for (const keys of [
            ['pgdn'],
            ['end'],
            ['home'],
            ['gin', 'down'],
            ['enter', '=A gin', 'enter'],
            ['enter'],
            ['enter'],
          ]) {
            at.press(...keys);
            look();
          }
        },
        { columns, rows },
      );
  });
});
