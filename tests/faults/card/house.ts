// The small house of the proofs, made by the program itself.
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { smallItems, smallSpecs } from '../../support/night.ts';
import { must } from './program.ts';

export function furnish(folder: string, home: string): void {
  writeFileSync(join(home, 'items.csv'), smallItems);
  writeFileSync(join(home, 'specs.txt'), smallSpecs);
  must(folder, home, 'people', 'add', 'Ines');
  must(folder, home, 'import', join(home, 'items.csv'), join(home, 'specs.txt'));
  must(folder, home, 'open', '--by', 'Ines');
}
