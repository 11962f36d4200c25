// Nights that go wrong between stations: each what a house may come to when nobody hears of the other for a while. What was sealed
// stays, all say the same, and nothing that was poured is in no report.
import { afterAll, afterEach, beforeAll, expect, it } from 'vitest';
import { newHouse } from '../../src/domain/catalogue/house.ts';
import type { Item } from '../../src/domain/catalogue/item.ts';
import { intendRename } from '../../src/domain/intent/intend-change.ts';
import { intendItem, intendSpec } from '../../src/domain/intent/intend-house.ts';
import { intendPour, intendStraight } from '../../src/domain/intent/intend-pour.ts';
import { intendNote } from '../../src/domain/intent/intend-remark.ts';
import { intendOpenShift, intendSeal } from '../../src/domain/intent/intend-shift.ts';
import { intendCount, intendDelivery, intendLoss } from '../../src/domain/intent/intend-stock.ts';
import type { Intent } from '../../src/domain/intent/intent.ts';
import type { Books } from '../../src/domain/ledger/books.ts';
import type { Report } from '../../src/domain/report/report.ts';
import { cameAfterLines } from '../../src/domain/report/words.ts';
import type { EventId } from '../../src/domain/value/ids.ts';
import { takeBackOne } from '../../src/store/last.ts';
import { reportBetween, reportNamed } from '../../src/store/reports.ts';
import { prepareServer } from '../../src/store/server/admin.ts';
import { itemOf, specOf } from '../support/deeds.ts';
import { makeHouse, must, type TestHouse, type TestStation } from '../support/house.ts';
import { tempFolder } from '../support/night.ts';
import { startServer, type TestServer, withServer } from '../support/server.ts';

const nobody = { by: null };
const gin = (books: Books): Item => books.items.get(itemOf(0).id) ?? itemOf(0);

withServer('apart', () => {
  let server: TestServer;
  let house: TestHouse;
  beforeAll(async () => {
    server = await startServer();
    must(await server.asAdmin(prepareServer));
  });
  afterAll(() => server.end());
  afterEach(() => house.close());

  const at = (iso: string): void => {
    house.time.now = Date.parse(`2026-11-${iso}:00.000Z`);
  };
  const does = (one: TestStation, intent: Intent): EventId => {
    house.time.now += 1000;
    return (must(one.store().record(intent))[0]?.id ?? '') as EventId;
  };
  const open = (one: TestStation) => does(one, (books, now) => intendOpenShift(books, { ...nobody, now }));
  const seal = (one: TestStation) =>
    does(one, (books, now) => intendSeal(books, { ...nobody, now, sure: true }));
  const pour = (one: TestStation, many: number): void => {
    for (let n = 0; n < many; n += 1)
      does(one, (books) =>
        intendPour(books, {
          ...nobody,
          spec: books.specs.get(specOf(0).id) ?? specOf(0),
          count: 1,
          as: 'sale',
          changes: [],
        }),
      );
  };
  const lose = (one: TestStation) =>
    does(one, (books) => intendLoss(books, { ...nobody, item: gin(books), amount: 100_000, why: 'spill' }));
  const count = (one: TestStation, reading: string) =>
    does(one, (books) => intendCount(books, { ...nobody, item: gin(books), reading, again: false }));
  const meet = async (): Promise<void> => {
    for (let round = 0; round < 2; round += 1)
      for (const one of house.stations) expect((await one.exchange()).problem).toBeNull();
  };
  const made = async (...names: string[]): Promise<TestStation[]> => {
    house = await makeHouse(server, tempFolder(), names, '2026-11-20T17:00:00.000Z');
    const [first] = house.stations as [TestStation];
    does(first, (books) => intendItem(books, itemOf(0)));
    does(first, (books) => intendSpec(books, specOf(0)));
    await meet();
    return [...house.stations];
  };
  const report = (one: TestStation, wanted: string): Report => must(reportNamed(one.store(), wanted)).report;
  const sealedOf = ({ cameAfter: _, ...rest }: Report): string => JSON.stringify(rest);
  const drinks = ({ drinks: all }: Report): number => all.reduce((sum, { count }) => sum + count, 0);
  const sound = (): void => {
    for (const one of house.stations) expect([one.name, one.store().check([])]).toEqual([one.name, []]);
  };

  it('a night of a station that was away, between two that were sealed: both keep their lines, a stretch its nights', async () => {
    const [bar, yard] = (await made('bar', 'yard')) as [TestStation, TestStation];
    at('20T18:00');
    open(bar);
    pour(bar, 3);
    at('21T01:00');
    seal(bar);
    await meet();
    at('21T10:00');
    lose(bar);
    at('21T11:00');
    open(yard);
    pour(yard, 2);
    at('21T15:00');
    seal(yard);
    at('21T18:00');
    const night = open(bar);
    pour(bar, 4);
    at('22T01:00');
    seal(bar);
    const stretch = (): Report =>
      must(reportBetween(bar.store(), { from: '2026-11-20', to: '2026-11-21' })).report;
    const before = [sealedOf(report(bar, night)), sealedOf(stretch())];
    expect(report(bar, night).losses).toHaveLength(1);
    await meet();
    expect([sealedOf(report(bar, night)), sealedOf(stretch())]).toEqual(before);
    sound();
  });

  it('an opening made earlier elsewhere gives a sealed night no other date', async () => {
    const [bar, yard] = (await made('bar', 'yard')) as [TestStation, TestStation];
    at('21T03:00');
    open(yard);
    pour(yard, 1);
    at('21T18:00');
    open(bar);
    pour(bar, 4);
    at('22T01:00');
    seal(bar);
    const before = sealedOf(report(bar, '2026-11-21'));
    await meet();
    for (const one of house.stations) expect(sealedOf(report(one, '2026-11-21'))).toBe(before);
    expect(report(bar, '2026-11-21').cameAfter?.drinks).toBe(1);
    sound();
  });

  it('a night sealed twice: the first seal is the night’s, the other is told of, and its own report stays to be had', async () => {
    const [bar, yard] = (await made('bar', 'yard')) as [TestStation, TestStation];
    at('20T18:00');
    open(bar);
    await meet();
    at('20T22:00');
    pour(yard, 2);
    pour(bar, 20);
    at('20T23:00');
    const early = seal(yard);
    at('21T00:00');
    pour(bar, 30);
    at('21T02:00');
    const late = seal(bar);
    const printed = sealedOf(report(bar, '2026-11-20'));
    await meet();
    for (const one of house.stations) {
      const night = report(one, '2026-11-20');
      expect([drinks(night), night.cameAfter?.drinks]).toEqual([2, 50]);
      expect(night.cameAfter?.sealedAgain).toMatchObject([{ station: 'bar', seal: late }]);
      expect(sealedOf(report(one, late))).toBe(printed);
      expect(drinks(report(one, early))).toBe(2);
      // Among the nights that are reckoned with it is one.
      expect(one.store().shiftBooks(10)).toHaveLength(1);
    }
    sound();
  });

  it('a night that was joined to another one, which was closed elsewhere before: it is closed by its own seal', async () => {
    const [cellar, upstairs, yard] = (await made('cellar', 'upstairs', 'yard')) as [
      TestStation,
      TestStation,
      TestStation,
    ];
    at('20T18:00');
    open(cellar);
    await cellar.exchange();
    at('20T18:10');
    open(upstairs);
    pour(upstairs, 2);
    at('20T18:20');
    open(yard);
    await yard.exchange();
    pour(yard, 10);
    at('20T23:00');
    seal(upstairs);
    at('21T02:00');
    seal(yard);
    at('21T18:00');
    open(yard);
    pour(yard, 5);
    at('22T02:00');
    seal(yard);
    await meet();
    for (const one of house.stations) {
      const nights = one.store().shifts();
      expect(nights.every(({ sealed }) => sealed)).toBe(true);
      const all = nights.reduce(
        (sum, { id }) => sum + drinks(report(one, id)) + (report(one, id).cameAfter?.drinks ?? 0),
        0,
      );
      expect(all).toBeGreaterThanOrEqual(17);
    }
    sound();
  });

  it('a change of the very moment of the seal, by a station whose name sorts later, is not in it', async () => {
    const [bar, yard] = (await made('bar', 'yard')) as [TestStation, TestStation];
    at('20T18:00');
    open(bar);
    count(bar, '2.0');
    await meet();
    const night = bar.store().books().shift?.id ?? '';
    at('20T23:00');
    count(bar, '1.5');
    seal(bar);
    const before = sealedOf(report(bar, night));
    must(yard.store().record((books) => intendItem(books, { ...gin(books), costMinor: 9000 })));
    await meet();
    expect(sealedOf(report(bar, night))).toBe(before);
    bar.restart();
    expect(sealedOf(report(bar, night))).toBe(before);
  });

  it('what came late for one night is said of that one alone', async () => {
    const [bar, yard] = (await made('bar', 'yard')) as [TestStation, TestStation];
    at('20T18:00');
    open(bar);
    await meet();
    pour(yard, 3);
    at('21T01:00');
    seal(bar);
    for (const day of ['21', '22']) {
      at(`${day}T18:00`);
      open(bar);
      pour(bar, 1);
      at(`${Number(day) + 1}T01:00`);
      seal(bar);
    }
    await meet();
    expect(['20', '21', '22'].map((day) => report(bar, `2026-11-${day}`).cameAfter?.drinks)).toEqual([
      3,
      undefined,
      undefined,
    ]);
  });

  it('a count that came after cuts the night in two: both parts are told; what came and went late is told of by nobody', async () => {
    const [bar, yard] = (await made('bar', 'yard')) as [TestStation, TestStation];
    at('20T18:00');
    open(bar);
    count(bar, '3.0');
    await meet();
    at('20T22:00');
    count(yard, '1.0');
    must(takeBackOne(yard.store(), lose(yard)));
    at('20T23:00');
    count(bar, '2.0');
    seal(bar);
    const before = sealedOf(report(bar, '2026-11-20'));
    await meet();
    for (const one of house.stations) {
      const night = report(one, '2026-11-20');
      expect(sealedOf(night)).toBe(before);
      expect(night.cameAfter).toMatchObject({ takenBack: 0, others: 0, counts: 1 });
      const [row] = night.cameAfter?.items ?? [];
      const [part] = row?.earlierThen ?? [];
      // Of three, two gone before the count at ten, and one more than there was after it.
      const size = itemOf(0).size / 1000;
      expect([row?.missing, part?.missing, row?.missingThen]).toEqual([size, 2 * size, -size]);
      expect(cameAfterLines(night, newHouse)[1]).toMatch(
        /as sealed, .* extra .*with what came after, and .* missing .* from \d\d:\d\d to/,
      );
    }
    sound();
  });

  it('a note of the night taken back elsewhere is nothing that came after', async () => {
    const [bar, yard] = (await made('bar', 'yard')) as [TestStation, TestStation];
    at('20T18:00');
    const night = open(bar);
    const note = does(bar, () => intendNote(night, { text: 'slow', item: null, by: null }));
    await meet();
    at('21T01:00');
    seal(bar);
    takeBackOne(yard.store(), note);
    await meet();
    for (const one of house.stations) expect(report(one, night).cameAfter).toBeUndefined();
    sound();
  });

  it('a station whose name JavaScript knows is one like any other', async () => {
    const [bar, other] = (await made('bar', 'constructor')) as [TestStation, TestStation];
    at('20T18:00');
    const night = open(bar);
    pour(bar, 1);
    await bar.exchange();
    await other.exchange();
    at('20T19:00');
    pour(other, 2);
    at('21T01:00');
    seal(bar);
    const before = sealedOf(report(bar, night));
    await meet();
    for (const one of house.stations)
      expect([sealedOf(report(one, night)), report(one, night).cameAfter?.drinks]).toEqual([before, 2]);
    sound();
  });

  it('a place that is renamed here while something comes to either name there: all of it stands on the one shelf', async () => {
    const [bar, yard] = (await made('bar', 'yard')) as [TestStation, TestStation];
    does(bar, (books) =>
      intendDelivery(books, { ...nobody, item: gin(books), containers: '3', costMinor: null }),
    );
    open(bar);
    await meet();
    does(yard, (books) =>
      intendDelivery(books, {
        ...nobody,
        item: gin(books),
        containers: '10',
        costMinor: null,
        place: 'front',
      }),
    );
    does(bar, (books) => intendRename(books, 'place', 'bar', 'front'));
    does(yard, (books) =>
      intendStraight(books, { ...nobody, item: gin(books), amount: 700_000, count: 1, as: 'sale' }),
    );
    await meet();
    for (const one of house.stations) {
      const stocks = [...one.store().books().stock.values()].map(({ place, amount }) => [place, amount]);
      expect(stocks).toEqual([['front', 12 * itemOf(0).size]]);
    }
    sound();
  });
});
