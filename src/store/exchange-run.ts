// Carries an exchange out: asks the books and the server what the machine wants asked, until it ends.
import type { Problem, Result } from '../domain/value/problem.ts';
import {
  type Arrived,
  beginExchange,
  type Exchanged,
  type ExchangeEffect,
  type ExchangeInput,
  type Head,
  type Hello,
  PAGE,
  type Pushed,
  type SharedBooks,
  type SharedRow,
  stepExchange,
} from './exchange.ts';

/** The server's side of an exchange. */
export type ExchangeLink = {
  readonly greet: (
    heads: Readonly<Record<string, number>>,
    rests: boolean,
  ) => Promise<Result<{ readonly hello: Hello; readonly skewMs: number }>>;
  readonly pull: (after: number, most?: number) => Promise<Result<readonly Arrived[]>>;
  readonly push: (rows: readonly SharedRow[]) => Promise<Result<Pushed>>;
};

export type ExchangeSetting = {
  readonly station: string;
  readonly confirmed: number;
  /** Nobody is here after this one: when nothing waits, the station is at rest. */
  readonly rests?: boolean;
  /** Events a page. */
  readonly page?: number;
  readonly onProgress?: (taken: number, of: number) => void;
};

export type Outcome = Exchanged & { readonly skewMs: number };

/** One exchange, from the greeting until both sides hold the same, or until something stops it. */
export async function exchangeOnce(
  books: SharedBooks,
  link: ExchangeLink,
  { station, confirmed, rests = false, page = PAGE, onProgress }: ExchangeSetting,
): Promise<Outcome> {
  let skewMs = 0;
  const ask = async (effect: Exclude<ExchangeEffect, { do: 'end' }>): Promise<ExchangeInput> => {
    switch (effect.do) {
      case 'read-heads':
        return from(books.heads(), (heads) => ({ came: 'heads', heads }));
      case 'greet':
        return from(await link.greet(effect.heads, false), (said) => {
          skewMs = said.skewMs;
          return { came: 'hello', hello: said.hello };
        });
      case 'compare':
        return compare(books, effect.held);
      case 'pull':
        return from(await link.pull(effect.after, page), (rows) => ({ came: 'page', rows }));
      case 'take-in':
        return from(books.takeIn(effect.rows), (added) => ({ came: 'taken', added }));
      case 'read-own':
        return from(books.rowsAfter(effect.station, effect.after, page), (rows) => ({ came: 'own', rows }));
      case 'push':
        return from(await link.push(effect.rows), (head) => ({ came: 'pushed', head }));
    }
  };
  let { state, effect } = beginExchange(station, confirmed);
  while (effect.do !== 'end') {
    ({ state, effect } = stepExchange(state, await ask(effect)));
    onProgress?.(state.arrived, state.hello?.arrived ?? 0);
  }
  const { problem, pushed } = effect.outcome;
  if (problem === null && rests) await link.greet({ [station]: pushed }, true);
  return { ...effect.outcome, skewMs };
}

function compare(books: SharedBooks, held: readonly Head[]): ExchangeInput {
  for (const { station, seq, hash } of held) {
    const here = books.hashAt(station, seq);
    if (!here.ok) return from(here, () => ({ came: 'compared', apart: null }));
    if (here.value !== hash) return { came: 'compared', apart: station };
  }
  return { came: 'compared', apart: null };
}

function from<T>(result: Result<T>, input: (value: T) => ExchangeInput): ExchangeInput {
  return result.ok ? input(result.value) : { came: 'failed', problem: result.problems[0] ?? unknown };
}

const unknown: Problem = {
  code: 'server-away',
  message: 'The exchange stopped. It is tried again.',
  exit: 69,
};

/** An exchange that did not begin, because the server could not be reached. */
export const notBegun = (problem: Problem, confirmed: number): Outcome => ({
  hello: null,
  taken: 0,
  sent: 0,
  lostThere: 0,
  lacking: [],
  pushed: confirmed,
  problem,
  skewMs: 0,
});
