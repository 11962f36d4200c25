// A query against 1,000 and 10,000 specs, ranked and filtered as the Pour room does it, one letter after the other.
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { runCommand } from '../../src/commands/run.ts';
import { currentChoices } from '../../src/screens/pour/model.ts';
import { makeWorld } from '../../src/shell/world.ts';
import { tenWords as first } from '../support/ten-words.ts';
import { figure, quantile } from './measure.ts';
import type { Figure } from './run.ts';

const second = ['Sour', 'Smash', 'Fizz', 'Punch', 'Bitter', 'Rose', 'Road', 'Cup', 'Light', 'Flip'];
const queries = [
  'lan',
  'lantern so',
  'gin lem',
  'negr',
  'hrbr',
  'velvt rose',
  'copper',
  'zzzz',
  'with rye',
  'sour no egg',
  'winter under 15%',
  'paper cup in stock',
  'orchrd',
  'mrbl',
  'rum lime',
  's',
];

async function booksOf(specs: number) {
  const folder = mkdtempSync(join(tmpdir(), 'ullage-bench-'));
  try {
    const items = [
      'dry gin',
      'rye',
      'white rum',
      'lemon juice',
      'lime juice',
      'simple syrup',
      'egg white',
      'bitters',
    ];
    const rows = items.map((name) => `${name.replace(' ', '-')},${name},spirit,700 ml,40`);
    writeFileSync(join(folder, 'i.csv'), ['id,name,kind,size,abv', ...rows, ''].join('\n'));
    const cards = Array.from({ length: specs }, (_, at) => {
      const name = `${first[at % 10]} ${second[Math.floor(at / 10) % 10]} ${Math.floor(at / 100) + 1}`;
      const [one, two, three] = [items[at % 3], items[3 + (at % 2)], items[5 + (at % 3)]];
      return `# ${name}\nfamily: sour\nglass: coupe\n50 ml ${one}\n22.5 ml ${two}\n15 ml ${three}\ndo: shake\n`;
    });
    writeFileSync(join(folder, 's.txt'), cards.join('\n'));
    const world = makeWorld(folder, { ...process.env, XDG_CONFIG_HOME: folder }, 'bench');
    const done = await runCommand(['import', join(folder, 'i.csv'), join(folder, 's.txt')], world);
    if (done.exit !== 0) throw new Error(done.err);
    const store = await world.openStore();
    if (!store.ok) throw new Error(store.problems[0]?.message);
    const books = store.value.books();
    store.value.close();
    return books;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

export async function searchBench(): Promise<Figure[]> {
  const figures: Figure[] = [];
  let floor = 0;
  for (const size of [1_000, 10_000]) {
    const books = await booksOf(size);
    const built = performance.now();
    currentChoices(books, { query: 'warm' });
    const index = performance.now() - built;
    const times: number[] = [];
    for (let round = 0; round < 40; round += 1)
      for (const query of queries) {
        const letter = query.slice(0, 1 + (round % query.length));
        for (const text of [letter, query]) {
          const begun = performance.now();
          currentChoices(books, { query: text });
          times.push(performance.now() - begun);
        }
      }
    const name = `${size.toLocaleString('en')} specs`;
    if (floor === 0) floor = quantile(times, 0.99);
    figures.push(
      figure(`index of ${name}, made once`, index, 'ms'),
      figure(`query, ${name}, p50`, quantile(times, 0.5), 'ms'),
      figure(`query, ${name}, p99`, quantile(times, 0.99), 'ms', floor),
    );
  }
  return figures;
}
