// Row 2 of the card: 400 power cuts. No tap that was said to be kept is lost, and the control must lose some.
import { mkdirSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { expect, it } from 'vitest';
import { makeRandom } from '../../support/random.ts';
import { furnish } from './house.ts';
import { imageAt, trace, writeImage } from './power-cut.ts';
import { inFolder, withStore } from './program.ts';

const script = new URL('taps.ts', import.meta.url).pathname;
const CUTS = 400;
const TAPS = 14;

const filesOf = (folder: string): Map<string, Buffer> =>
  new Map(
    readdirSync(folder)
      .filter((name) => !name.endsWith('-shm'))
      .map((name) => [join(folder, name), readFileSync(join(folder, name))]),
  );

const tapsIn = (folder: string): { taps: number; findings: number } =>
  withStore(folder, (store) => ({
    taps: [...store.allEvents()].filter(({ kind }) => kind === 'note-written').length,
    findings: store.check([]).length,
  }));

it('of taps that were said to be kept none is lost', () => {
  inFolder((top) => {
    const [folder, home, image] = [join(top, 'books'), join(top, 'home'), join(top, 'image')];
    mkdirSync(home);
    furnish(folder, home);
    const start = filesOf(folder);
    const steps = trace(script, folder, TAPS, 'kept', join(top, 'log'));
    const random = makeRandom(20_261_126).uniform;
    let [lost, unsound, between] = [0, 0, 0];
    for (let cut = 0; cut < CUTS; cut += 1) {
      const made = imageAt(start, steps, 1 + Math.floor(random() * steps.length), random);
      writeImage(made, image);
      const { taps, findings } = tapsIn(image);
      if (taps < made.said) lost += 1;
      if (findings > 0) unsound += 1;
      if (taps > 0 && taps < TAPS) between += 1;
    }
    process.stdout.write(
      `\npower cuts: ${CUTS} over ${steps.length} calls, ${lost} lost, ${unsound} unsound, ${between} in the middle\n`,
    );
    expect([lost, unsound]).toEqual([0, 0]);
    expect(between).toBeGreaterThan(CUTS / 4);
  });
});

it('the control, which syncs nothing, loses some: the proof can fail', () => {
  inFolder((top) => {
    const [folder, image] = [join(top, 'books'), join(top, 'image')];
    mkdirSync(folder);
    const steps = trace(script, folder, TAPS, 'loose', join(top, 'log'));
    const random = makeRandom(20_261_126).uniform;
    let lost = 0;
    for (let cut = 0; cut < 60; cut += 1) {
      const made = imageAt(new Map(), steps, 1 + Math.floor(random() * steps.length), random);
      if (made.said === 0) continue;
      writeImage(made, image);
      const db = new DatabaseSync(join(image, 'loose.sqlite'));
      try {
        if (Number(db.prepare('SELECT count(*) AS n FROM tap').get()?.n) < made.said) lost += 1;
      } catch {
        lost += 1;
      }
      db.close();
    }
    process.stdout.write(`\nthe control lost taps in ${lost} of 60 cuts\n`);
    expect(lost).toBeGreaterThan(5);
  });
});
