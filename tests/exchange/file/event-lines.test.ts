// Events as lines of JSON: out and in again, and what a line may not be.
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { eventJsonSchema, writeEvent } from '../../../src/exchange/file/event-lines.ts';
import { readEventText } from '../../support/event-text.ts';
import { nights } from '../../support/events.ts';
import { anItem, messagesOf, must } from '../../support/shelf.ts';
import { counts, opens, stocks } from '../../support/steps.ts';
import { told } from '../../support/told.ts';

const events = told(stocks(anItem('gin', { name: '焼酎 "old" 🍶' })), opens(), counts('gin', 700));
const lines = events.map(writeEvent);

it('writes one line an event', () => {
  for (const text of lines) expect(text.trimEnd().split('\n')).toHaveLength(1);
});

it('reads back exactly what it wrote', () => {
  expect(must(readEventText(lines.join(''))).events).toEqual(events);
  fc.assert(
    fc.property(nights(15), (night) => {
      expect(must(readEventText(night.map(writeEvent).join(''))).events).toEqual(night);
    }),
    { numRuns: 40 },
  );
});

it('knows the line of each event, past empty ones and other line ends', () => {
  const text = `\n${lines[0]?.trimEnd()}\r\n\n  \n${lines[1]}`;
  expect(must(readEventText(text)).lines).toEqual([2, 5]);
  expect(must(readEventText('')).events).toEqual([]);
});

it('says of a bad line what it is not, with its number', () => {
  const result = readEventText(`${lines[0]}not json\n{"kind":"nothing"}\n${lines[1]}[]\n`);
  expect(result.ok ? [] : result.problems.map(({ line }) => line)).toEqual([2, 3, 5]);
  expect(messagesOf(result)[0]).toBe(
    'The line is not JSON. Each line must be one event as ullage export events writes it.',
  );
  expect(messagesOf(result)[1]).toMatch(
    /^Not an event \(.*\)\. Compare it with ullage export events --schema\.$/,
  );
});

it('writes a control in a text of older books harmlessly, and takes none in', () => {
  const [item] = told(stocks(anItem('rum', { name: 'a\u001b]0;x\u0007b\u0085\u202e' })));
  if (item === undefined) throw new Error('nothing was stocked');
  expect(writeEvent(item)).not.toMatch(/\\u00|[\u0080-\u009f\u202a-\u202e]/);
  expect(must(readEventText(writeEvent(item))).events[0]).toMatchObject({ item: { name: 'a·]0;x·b·' } });
  expect(messagesOf(readEventText(JSON.stringify(item)))[0]).toMatch(/control character U\+001B/);
});

it('says which field of an event is wrong, and takes none with a field too many', () => {
  const counted = JSON.parse(lines[2] ?? '');
  const said = (over: object) => messagesOf(readEventText(JSON.stringify({ ...counted, ...over })))[0] ?? '';
  expect(said({ amount: -1 })).toContain('(amount: ');
  expect(said({ amount: 0.5 })).toContain('(amount: ');
  expect(said({ at: '2026-11-20 22:00' })).toContain(
    '(at: must be an instant in UTC with milliseconds, of a day and an hour that exist)',
  );
  expect(said({ surprise: 1 })).toMatch(/^Not an event \(event: /);
});

it('refuses names that reach into the program, and nesting that would break it', () => {
  for (const name of ['__proto__', 'constructor', 'prototype'])
    expect(messagesOf(readEventText((lines[0] ?? '').replace('{', `{"${name}":{},`)))[0], name).toMatch(
      /^(Not an event|The line has the key)/,
    );
  expect(messagesOf(readEventText('['.repeat(100_000)))).toEqual([
    'The line is not JSON. Each line must be one event as ullage export events writes it.',
  ]);
  const deep = `${'['.repeat(1000)}${']'.repeat(1000)}`;
  expect(messagesOf(readEventText(deep))).toEqual([
    'The line is nested too deeply to be an event. Take it out.',
  ]);
});

it('has a schema of every kind that names the fields a program needs', () => {
  const schema = JSON.parse(eventJsonSchema()) as { readonly [name: string]: unknown };
  const kinds = [...JSON.stringify(schema).matchAll(/"const":"([a-z-]+)"/g)].map(([, kind]) => kind);
  expect(kinds).toContain('drink-poured');
  expect(kinds).toContain('stock-counted');
  expect(new Set(kinds).size).toBe(kinds.length);
});
