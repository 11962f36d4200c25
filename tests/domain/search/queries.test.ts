// Search quality: what a bartender types, and the drink that must come first, on the demo's book with its habits.
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { emptyBooks } from '../../../src/domain/ledger/books.ts';
import { readRound } from '../../../src/domain/search/pour-text.ts';
import { currentChoices } from '../../../src/screens/pour/model.ts';
import { readEventText } from '../../support/event-text.ts';
import { foldEvents } from '../../support/fold.ts';
import { demoFile } from '../../support/night.ts';

const read = readEventText(readFileSync(demoFile('events.jsonl'), 'utf8'));
if (!read.ok) throw new Error('the demo cannot be read');
const books = foldEvents(emptyBooks, read.value.events);
const names = (query: string): string[] =>
  currentChoices(books, { query }).flatMap((choice) => (choice.kind === 'spec' ? [choice.spec.name] : []));

/** Query, and the drink expected first. */
const queries: readonly (readonly [query: string, drink: string])[] = [
  ['neg', 'Negroni'],
  ['negr', 'Negroni'],
  ['negorni', 'Negroni'],
  ['ngroni', 'Negroni'],
  ['NEGRONI', 'Negroni'],
  ['dai', 'Daiquiri'],
  ['dqri', 'Daiquiri'],
  ['daquiri', 'Daiquiri'],
  ['daiqiri', 'Daiquiri'],
  ['mar', 'Margarita'],
  ['margrita', 'Margarita'],
  ['marg', 'Margarita'],
  ['lan so', 'Lantern Sour'],
  ['lamp sour', 'Lantern Sour'],
  ['lantern sm', 'Lantern Smash'],
  ['lantrn sour', 'Lantern Sour'],
  ['man', 'Manhattan'],
  ['manhatan', 'Manhattan'],
  ['boul', 'Boulevardier'],
  ['bulevardier', 'Boulevardier'],
  ['old f', 'Old Fashioned'],
  ['of', 'Old Fashioned'],
  ['old fashoned', 'Old Fashioned'],
  ['old p', 'Old Pier'],
  ['mt', 'Mai Tai'],
  ['mai', 'Mai Tai'],
  ['maitai', 'Mai Tai'],
  ['side', 'Sidecar'],
  ['sidcar', 'Sidecar'],
  ['white l', 'White Lady'],
  ['wl', 'White Lady'],
  ['sheets', 'Between the Sheets'],
  ['betwen', 'Between the Sheets'],
  ['bts', 'Between the Sheets'],
  ['75', 'French 75'],
  ['french', 'French 75'],
  ['frnch 75', 'French 75'],
  ['saz', 'Sazerac'],
  ['sazarac', 'Sazerac'],
  ['cuba', 'Cuba Libre'],
  ['cl', 'Cuba Libre'],
  ['martini', 'Dry Martini'],
  ['dry m', 'Dry Martini'],
  ['card', 'Cardinale'],
  ['amer', 'Americano'],
  ['tide', 'Tide Table'],
  ['tt', 'Tide Table'],
  ['salt', 'Salt Ledger'],
  ['quay', 'Quayside Fizz'],
  ['fizz', 'Quayside Fizz'],
  ['rope', 'Ropewalk'],
  ['ropwalk', 'Ropewalk'],
  ['slow', 'Slow Ferry'],
  ['ferry', 'Slow Ferry'],
  ['gan', 'Gannet'],
  ['tar', 'Tar and Honey'],
  ['honey tar', 'Tar and Honey'],
  ['low', 'Low Water'],
  ['lw', 'Low Water'],
  ['wickm', 'Wickminder'],
  ['night', 'Night Pilot'],
  ['coal', 'Coal Barge'],
  ['gull', 'Gull Rock'],
  ['gr', 'Gull Rock'],
  ['chand', "Chandler's Cup"],
  ['chandlers', "Chandler's Cup"],
  ['orch', 'Orchard Mole'],
  ['basil', 'Basil Rope'],
  ['buoy', 'Green Buoy'],
  ['storm', 'Storm Glass'],
  ['break', 'Breakwater'],
  ['tomato', 'Breakwater'],
  ['copper', 'Copper Sheet'],
  ["pilot's", "Pilot's Breakfast"],
  ['slack', 'Slack Water'],
  ['beer', 'Lager'],
  ['white wine', 'Glass of White'],
  ['gin lem egg', 'Lantern Sour'],
  ['rum cola', 'Cuba Libre'],
  ['rum cream', 'Coal Barge'],
  ['tequila triple', 'Margarita'],
  ['apple brandy', 'Orchard Mole'],
  ['curacao', 'Mai Tai'],
  ['curaçao', 'Mai Tai'],
  ['gin tonic', 'Gull Rock'],
  ['blackberry', 'Hollow Road'],
  ['malt honey', 'Tar and Honey'],
  ['flip', 'Night Pilot'],
  ['smoky', 'Salt Ledger'],
  ['no egg lantern', 'Lantern Smash'],
  ['sour with honey', 'Lantern Sour'],
  ['stirred with rye', 'Manhattan'],
];

describe('search', () => {
  it(`${queries.length} queries: at least 95 % first, all in the first five`, () => {
    const places = queries.map(([query, drink]) => ({ query, drink, place: names(query).indexOf(drink) }));
    expect(places.filter(({ place }) => place < 0 || place > 4)).toEqual([]);
    const second = places.filter(({ place }) => place !== 0);
    expect(second.length, JSON.stringify(second)).toBeLessThanOrEqual(Math.floor(queries.length * 0.05));
    expect(queries.length).toBeGreaterThanOrEqual(60);
  });

  it.each([
    ['with rye', ['Manhattan', 'Boulevardier', 'Lantern Smash']],
    ['flip no egg', []],
  ] as const)('%s', (query, drinks) => expect([...names(query)].sort()).toEqual([...drinks].sort()));

  it('filters by strength and stock', () => {
    expect(names('under 8%')).toContain('Lager');
    expect(names('under 8%')).not.toContain('Negroni');
    expect(names('over 25%')).toContain('Sazerac');
    expect(names('in stock').length).toBeGreaterThan(30);
  });
});

describe('what can be typed after a drink', () => {
  it('a count, changes, a late entry', () => {
    expect(readRound('2 lan: -egg white +10ml lemon juice, neg 10 ago', books)).toMatchObject([
      { count: 2, text: 'lan', changes: ['-egg white', '+10ml lemon juice'], when: { ago: 10 } },
      { count: 1, text: 'neg', changes: [], when: { ago: 10 } },
    ]);
    expect(readRound('lan: double', books)[0]?.changes).toEqual(['double']);
    expect(readRound('45 ml gin', books)[0]).toMatchObject({
      count: 1,
      text: 'gin',
      measure: { unit: 'ml' },
    });
    expect(readRound('lan: gin->rye', books)[0]?.changes).toEqual(['gin->rye']);
  });
});
