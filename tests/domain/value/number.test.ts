// What a number means: read in one place, refused where it could be two, and what is printed is read back as the same.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { displayAmount } from '../../../src/domain/catalogue/display.ts';
import { houseOf } from '../../../src/domain/catalogue/house.ts';
import { amountOf, splitQuantity } from '../../../src/domain/catalogue/units.ts';
import { exactText } from '../../../src/domain/value/amount.ts';
import { formatMoney, LARGEST_MONEY, parseMoney } from '../../../src/domain/value/money.ts';
import {
  decimalText,
  numberDoubt,
  parseDecimal,
  parseQuantity,
  storedQuantity,
} from '../../../src/domain/value/number.ts';
import { ratioToNumber } from '../../../src/domain/value/ratio.ts';
import { furnished } from '../../support/night.ts';

const read = (text: string, most?: number): number | null => {
  const value = parseDecimal(text, most);
  return value === null ? null : ratioToNumber(value);
};

describe('a number', () => {
  it.each([
    ['12,5', 12.5],
    ['12.5', 12.5],
    ['0.750', 0.75],
    ['0,750', 0.75],
    ['1000', 1000],
    ['1.0000', 1],
    ['1\u202f400', 1400],
    ['1’400', 1400],
    ['1,234,567', 1_234_567],
    ['1.234.567', 1_234_567],
    ['1,234.5', 1234.5],
    ['1.234,5', 1234.5],
    ['12 500', null],
    ['1,000', null],
    ['1.000', null],
    ['999.125', null],
    ['-1', null],
    ['1e3', null],
    ['1,2,3', null],
    ['', null],
  ])('%s is %s', (text, value) => expect(read(text)).toBe(value));

  it('has one meaning where the other is beyond what makes sense: 40.125 % is no forty thousand', () => {
    expect([read('40.125', 100), read('998.203', 2000), read('1.025', 1500)]).toEqual([
      40.125,
      998.203,
      null,
    ]);
  });

  it('says what to write instead', () => {
    expect(numberDoubt('1,000ml gin')).toBe('"1,000" can be read two ways. Write 1000 or 1.0.');
    expect(numberDoubt('about 12.345 g')).toBe('"12.345" can be read two ways. Write 12345 or 12.3450.');
    expect([numberDoubt('1000'), numberDoubt('0.750'), numberDoubt('1.5')]).toEqual([null, null, null]);
  });

  it('that the books keep means what it meant when it was written', () => {
    expect(ratioToNumber(storedQuantity('1.125') ?? { num: 0n, den: 1n })).toBe(1.125);
    expect(parseQuantity('1.125')).toBeNull();
  });

  it('printed for a file is read back as the same', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 5_000_000 }), (thousandths) => {
        expect(read(decimalText(thousandths / 1000))).toBe(thousandths / 1000);
        expect(read(exactText(thousandths))).toBe(thousandths / 1000);
      }),
    );
  });
});

describe('an amount', () => {
  it.each(['ml', 'cl', 'oz'] as const)('shown in %s is read back as shown', (units) => {
    const house = houseOf(new Map([['units', units]]));
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 900_000_000 }), (amount) => {
        const shown = displayAmount(amount, 'ml', house);
        const split = splitQuantity(`${shown} dry gin`, house);
        expect([shown, split?.rest]).toEqual([shown, 'dry gin']);
        const again = split === null ? null : amountOf(split.quantity, split.unit, house);
        const plainly = (text: string): string => text.replace(/\.0(?= )/, '');
        expect(plainly(displayAmount(again?.amount ?? 0, 'ml', house))).toBe(plainly(shown));
      }),
    );
  });
});

describe('money', () => {
  it.each([
    ['12', 'EUR', 1200],
    ['12,5', 'EUR', 1250],
    ['12.50', 'EUR', 1250],
    ['£12', 'GBP', 1200],
    ['12 £', 'GBP', 1200],
    ['12 EUR', 'EUR', 1200],
    ['eur 12', 'EUR', 1200],
    ['€ 12,50', 'EUR', 1250],
    ['$9.99', 'USD', 999],
    ['1,200.50', 'USD', 120_050],
    ['£12', 'EUR', null],
    ['12 USD', 'EUR', null],
    ['1,200', 'EUR', null],
    ['1.200', 'EUR', null],
    ['12.345', 'EUR', null],
    ['1,200', 'JPY', 1200],
    ['1.5', 'JPY', null],
    ['1.200', 'KWD', 1200],
    ['12000000', 'IDR', 1_200_000_000],
    ['-1', 'EUR', null],
    ['', 'EUR', null],
    ['EUR', 'EUR', null],
  ])('%s in a house of %s is %s', (text, currency, minor) => expect(parseMoney(text, currency)).toBe(minor));

  it('printed is read back as the same, in currencies with none to four decimals', () => {
    const currencies = fc.constantFrom('JPY', 'EUR', 'GBP', 'IDR', 'KWD', 'UYW');
    fc.assert(
      fc.property(currencies, fc.integer({ min: 0, max: LARGEST_MONEY }), (currency, minor) => {
        const text = formatMoney(minor, currency);
        expect([text, parseMoney(text, currency)]).toEqual([text, minor]);
        expect(parseMoney(`${text} ${currency}`, currency)).toBe(minor);
      }),
    );
  });
});

describe('at every door', () => {
  it.each([
    ['lose 1,000ml lemon-juice --why spill', 'Write 1000 or 1.0'],
    ['lose 1.000ml lemon-juice --why spill', 'Write 1000 or 1.0'],
    ['receive 1 dry-gin --cost 1,200', 'Write 1200 or 1.2'],
    ['receive 1,000 dry-gin', 'Write 1000 or 1.0'],
    ['count egg-white 1,000', 'Write 1000 or 1.0'],
    ['count lemon-juice 2+1,000ml', 'Write 1000 or 1.0'],
    ['weigh dry-gin 1,143 --learn tare', 'Write 1143 or 1.1430'],
  ])('%s is refused with what to write', async (line, remedy) => {
    const night = await furnished();
    await night.ok('open');
    const events = night.store((store) => store.log(1000).length);
    const outcome = await night.run(line);
    expect([outcome.exit, outcome.out]).toEqual([65, '']);
    expect(outcome.err).toContain(remedy);
    expect(night.store((store) => store.log(1000).length)).toBe(events);
  });

  it('what a loss prints can be typed again', async () => {
    const night = await furnished();
    expect(await night.ok('lose 1400ml lemon-juice --why spoiled')).toContain(
      'Lost 1\u202f400 ml Lemon juice',
    );
    await night.ok('lose', '1\u202f400 ml lemon juice', '--why', 'spoiled');
    expect(night.books().stock.get('lemon-juice\nfridge')?.amount).toBe(-2_800_000);
  });
});
