// Writing in the rooms: a new drink in mid-service, a card or an item written anew, and what is wrong said as it is typed.
import { expect, it } from 'vitest';
import { stocked } from '../support/night.ts';
import { roomsAt, walkTo } from '../support/rooms.ts';

const within = roomsAt({ columns: 100, rows: 30 });

it('a new drink in mid-service is written and poured in one breath, in few keys more than its own text', async () => {
  const night = await stocked();
  within(night, (at, store) => {
    const text = ['grey heron', '40 ml rye', '10 ml simple syrup', 'do: stir'];
    let more = 0;
    const press = (...keys: string[]): void => {
      more += keys.length;
      at.press(...keys);
    };
    at.press(text[0] ?? '');
    expect(at.screen()).toContain('^N writes it');
    press('ctrl-n');
    for (const line of text.slice(1)) {
      at.press(line);
      press('enter');
    }
    expect(at.screen()).toMatch(/40 ml +Straight rye/);
    press('enter');
    expect(at.state().message?.text).toContain('Wrote spec Grey Heron · Poured 1 Grey Heron');
    expect([store.books().specs.has('grey-heron' as never), at.state().dialog]).toEqual([true, null]);
    expect(store.books().shift?.drinks.get('grey-heron' as never)?.count).toBe(1);
    expect(more).toBeLessThanOrEqual(40);
    // ^U takes back the pour, then the card.
    at.press('ctrl-u', 'ctrl-u');
    expect(store.books().specs.has('grey-heron' as never)).toBe(false);
    at.press('ctrl-n', ...'# Grey Heron'.slice(2), 'enter', '40 ml rye', 'enter', 'enter');
    at.press('grey', 'enter');
    expect(store.books().shift?.drinks.get('grey-heron' as never)?.count).toBe(2);
  });
});

it('says what a line should be as it is typed, and writes nothing until all can be read', async () => {
  const night = await stocked();
  within(night, (at, store) => {
    const before = [...store.allEvents()].length;
    at.press('heron', 'ctrl-n', '40 ml ryee');
    expect(at.screen().replace(/\s+/g, ' ')).toMatch(/No item is called "ryee"\. Near it:.*Straight rye/);
    at.press('enter', 'enter');
    expect(at.state().message?.tone).toBe('refused');
    expect([...store.allEvents()].length).toBe(before);
    // The mark stands where it is to be mended, and nothing else is lost.
    at.press('backspace', 'down', 'enter');
    expect(store.books().specs.has('heron' as never)).toBe(true);
  });
});

it('Enter never tears a line, and twice on an empty last line writes, wherever the mend was', async () => {
  const night = await stocked();
  within(night, (at, store) => {
    at.press(
      'night owl',
      'ctrl-n',
      'price: 10',
      'enter',
      '40 ml dry gin',
      'enter',
      '20 ml figo',
      'enter',
      'enter',
    );
    expect(at.state().message?.tone).toBe('refused');
    // The mark stands at the end of the line that can't be read.
    at.press('backspace', 'backspace', 'backspace', 'backspace');
    // The error goes with its cause.
    expect(at.state().message).toBeNull();
    at.press('lemon juice', 'home', 'right', 'right', 'enter', 'enter');
    const spec = store.books().specs.get('night-owl' as never);
    expect(spec?.measures.map(({ item }) => item)).toEqual(['dry-gin', 'lemon-juice']);
  });
});

it('half a card is put aside by Esc and goes on with the same key', async () => {
  const night = await stocked();
  within(night, (at, store) => {
    at.press('heron', 'ctrl-n', '40 ml rye', 'esc', 'esc');
    expect(at.state().dialog).toBeNull();
    at.press('lan', 'enter', 'ctrl-n');
    expect(at.screen()).toContain('# Heron');
    at.press('enter', 'enter');
    expect(store.books().specs.has('heron' as never)).toBe(true);
    at.press('ctrl-n');
    expect(at.screen()).not.toContain('# Heron');
  });
});

it('the Book writes a card anew under its id, and shows what changes before it is written', async () => {
  const night = await stocked();
  within(night, (at, store) => {
    at.press('tab', 'tab', 'tab', 'tab', 'tab', 'rye lamp', 'ctrl-n');
    expect(at.screen()).toContain('written anew from now on');
    at.press('home', 'end', 'enter', '1 dash aromatic bitters', 'enter');
    const screen = at.screen();
    expect(screen).toContain('+ 1 dash aromatic bitters');
    expect(screen).not.toContain('− 60 ml');
    at.press('enter');
    const spec = store.books().specs.get('rye-lamp' as never);
    expect(spec?.measures.map(({ item }) => item)).toContain('aromatic-bitters');
    at.press('ctrl-u');
    expect(at.state().message?.text).toContain('Took back: Wrote spec Rye Lamp');
    expect(store.books().specs.get('rye-lamp' as never)?.measures).toHaveLength(3);
  });
});

it('and items: a new one by "item", an old one anew; a card of the same name is not replaced unseen', async () => {
  const night = await stocked();
  within(night, (at, store) => {
    const book = ['tab', 'tab', 'tab', 'tab', 'tab'];
    at.press(...book, 'item fino', 'ctrl-n');
    expect(at.screen().replace(/\s+/g, ' ')).toContain('kind is missing. Write kind: spirit.');
    // One stands where something is missing; Enter goes from line to line, and at the end, twice, writes.
    at.press('wine');
    for (let row = 0; row < 5; row += 1) at.press('enter');
    at.press('sulphites', 'enter', 'enter');
    expect(store.books().items.get('fino' as never)).toMatchObject({
      name: 'Fino',
      kind: 'wine',
      place: 'bar',
      allergens: ['sulphites'],
    });
    at.press('esc', 'straight rye', 'ctrl-n', 'enter', 'prices: 40 ml 6.00', 'enter');
    expect(at.screen()).toContain('+ prices: 40 ml 6.00');
    at.press('enter');
    expect(store.books().items.get('rye' as never)?.prices).toEqual([{ amount: 40_000, priceMinor: 600 }]);
    at.press('esc');
    walkTo(at, 'pour');
    at.press('rye lamp', 'ctrl-n', '40 ml rye');
    expect(at.screen().replace(/\s+/g, ' ')).toContain('There is one of that name.');
  });
});
