// A house that preps on Thursday and orders on Sunday, at 80×24, by keys alone: the invented house after its four weeks.
import { expect, it } from 'vitest';
import { demoFile, openNight } from '../support/night.ts';
import { type Rooms, roomsAt, walkTo } from '../support/rooms.ts';

const within = roomsAt({ columns: 80, rows: 24 });
const flat = (at: Rooms): string => at.screen().replace(/\s+/g, ' ');

it('from the list of Thursday to what came on Tuesday', async () => {
  // Thursday, three in the afternoon.
  const night = openNight('2026-11-26T15:00:00.000Z', 'demo');
  await night.ok('import', demoFile('events.jsonl'));
  within(night, (at) => {
    walkTo(at, 'prep');
    expect(flat(at)).toContain('for Thu 26 Nov');
    expect(flat(at)).toMatch(/Negroni batch 1 × 700 ml 700 ml 0 ml Sun 24 Jan/);
    // Two bottles of it, and a little less came out.
    at.press('batch', 'enter', '2 = 1.35 l', 'enter');
    expect(flat(at)).toContain('Made 1 350 ml Negroni batch (Batched Negroni), good until Sun 24 Jan');
    at.press('lime', 'enter', 'enter');
    expect(flat(at)).toContain('Made 300 ml Lime juice (Squeezed Lime), good until Thu 26 Nov');
  });
  night.later(150);
  within(night, (at) => {
    at.press('ctrl-o', 'enter', '90 ml negroni batch', 'enter', '2 margarita', 'enter');
    expect(flat(at)).toContain('Poured 2 Margarita');
  });
  night.later(8 * 60);
  within(night, (at) => {
    walkTo(at, 'count');
    at.press('negroni batch', 'enter', '1+550ml', 'enter');
    expect(flat(at)).toContain('1 of 57 counted');
    walkTo(at, 'close');
    at.press('=');
    expect(flat(at)).toContain('sold');
    at.press('esc', 'ctrl-x', 'seal', 'enter');
    expect(flat(at)).toContain('Sealed the shift');
  });
  // Sunday noon: the lime juice of Thursday is past its date.
  night.at('2026-11-29T12:00:00.000Z');
  within(night, (at) => {
    walkTo(at, 'prep');
    expect(flat(at)).toMatch(/Lime juice throw away 300 ml past its date/);
    at.press('enter', 'down', 'enter');
    expect(flat(at)).toContain('Threw away 300 ml Lime juice (expired)');
    walkTo(at, 'order');
    expect(flat(at)).toMatch(/Lock Street Cellars · [\d.]+ · order by Mon 30 Nov · comes Tue 1 Dec/);
    at.press('down', '2', 'home');
    const cost = /Lock Street Cellars · ([\d.]+)/.exec(flat(at))?.[1];
    expect(flat(at)).toContain('tied up');
    at.press('enter');
    expect(flat(at)).toContain('this is what is sent');
    at.press('enter');
    expect(flat(at)).toContain('of Lock Street Cellars for Tue 1 Dec');
    expect(Number(cost)).toBeGreaterThan(300);
  });
  // Tuesday: one thing came short and dearer, all else as ordered.
  night.at('2026-12-01T11:00:00.000Z');
  within(night, (at, store) => {
    const [order] = [...store.books().orders.values()];
    const item = order?.lines[0]?.item ?? ('' as never);
    walkTo(at, 'order');
    at.press('end', 'enter', `${item}=1@99`, 'enter');
    expect(store.books().orders.size).toBe(0);
    expect(store.books().items.get(item)?.costMinor).toBe(9900);
  });
  expect(await night.ok('check')).toBe('');
});
