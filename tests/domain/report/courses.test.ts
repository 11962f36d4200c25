// The stock of an item through one night and through several, for a chart.
import { expect, it } from 'vitest';
import { emptyBooks } from '../../../src/domain/ledger/books.ts';
import { coursesOfNight, coursesOfShifts } from '../../../src/domain/report/course/courses.ts';
import { foldEvents } from '../../support/fold.ts';
import { anItem } from '../../support/shelf.ts';
import {
  at,
  counts,
  loses,
  opens,
  pours,
  receives,
  type Step,
  seals,
  sets,
  stocks,
  straight,
} from '../../support/steps.ts';
import { told } from '../../support/told.ts';

const gin = anItem('gin');
const rye = anItem('rye');
const hour = (clock: string, step: Step): Step => at(`2026-11-20T${clock}:00.000Z`, step);
const opening = [...stocks(gin, rye), hour('17:00', counts('gin', 1400))];
const evening = [
  hour('18:00', opens()),
  hour('18:30', pours('quay', 5, [['gin', 350]])),
  hour('19:00', straight(1, ['rye', 70])),
  hour('20:15', counts('gin', 700)),
];

it('draws a night from what stood before, in bottles, with a mark at every count', () => {
  const events = told(opening, evening);
  const before = foldEvents(emptyBooks, events.slice(0, opening.length));
  const { axis, courses } = coursesOfNight(before, events, foldEvents(emptyBooks, events), [gin, rye]);
  // Two bottles; 350 of 1400 ml gone half an hour in: 1.5; counted at one bottle after 2 h 15.
  expect(courses[0]?.points).toEqual([
    { x: 0, y: 2, counted: false },
    { x: 0.5, y: 1.5, counted: false },
    { x: 2.25, y: 1, counted: true },
  ]);
  // Nobody counted the rye: a tenth of a bottle below zero.
  expect(courses[1]?.points).toEqual([
    { x: 0, y: 0, counted: false },
    { x: 1, y: -0.1, counted: false },
  ]);
  // 2 h 15 ends before the third hour.
  expect(axis).toEqual(['18:00', '19:00', '20:00', '21:00']);
});

it('puts what happened before the opening at its beginning', () => {
  const events = told(opening, evening);
  const { courses } = coursesOfNight(null, events, foldEvents(emptyBooks, events), [gin]);
  expect(courses[0]?.points.slice(0, 2)).toEqual([
    { x: 0, y: 0, counted: false },
    { x: 0, y: 2, counted: true },
  ]);
});

it('follows losses and deliveries', () => {
  const events = told(
    opening,
    hour('18:00', opens()),
    hour('19:00', loses('gin', 700, 'breakage')),
    hour('20:00', receives('gin', 2, 1400)),
  );
  const { courses } = coursesOfNight(null, events, foldEvents(emptyBooks, events), [gin]);
  expect(courses[0]?.points.slice(2).map(({ x, y }) => [x, y])).toEqual([
    [1, 1],
    [2, 3],
  ]);
});

it("labels the hours by the house's wall, and a night without events by one hour", () => {
  const steps = [sets('zone', 'Asia/Kolkata'), ...stocks(gin), hour('18:00', opens())];
  const events = told(steps);
  const end = foldEvents(emptyBooks, events);
  // 18:00 UTC is 23:30 in Kolkata.
  expect(coursesOfNight(null, events, end, [gin]).axis).toEqual(['23:30', '00:30']);
  expect(coursesOfNight(end, events, end, [gin])).toMatchObject({
    axis: ['23:30', '00:30'],
    courses: [{ points: [{ x: 0, y: 0 }] }],
  });
});

it('draws several nights by how each left the shelf, marked where that night counted it', () => {
  const first = [
    ...opening,
    hour('18:00', opens()),
    hour('20:00', counts('gin', 700)),
    hour('21:00', seals()),
  ];
  const second = [
    at('2026-11-21T18:00:00.000Z', opens('2026-11-21')),
    pours('quay', 5, [['gin', 350]]),
    at('2026-11-21T23:00:00.000Z', seals()),
  ];
  const events = told(first, second);
  const ends = [foldEvents(emptyBooks, events.slice(0, first.length)), foldEvents(emptyBooks, events)];
  expect(coursesOfShifts(ends, [gin])).toEqual({
    axis: ['11-20', '11-21'],
    courses: [
      {
        item: gin,
        points: [
          { x: 0, y: 1, counted: true },
          { x: 1, y: 0.5, counted: false },
        ],
      },
    ],
  });
});

it('has nothing to draw without nights or items', () => {
  expect(coursesOfShifts([], [gin])).toEqual({ axis: [], courses: [{ item: gin, points: [] }] });
  expect(coursesOfNight(null, [], emptyBooks, []).courses).toEqual([]);
});
