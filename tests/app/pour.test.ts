// The Pour room: what pours nothing, because it names nothing.
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { stocked } from '../support/night.ts';
import { roomsAt } from '../support/rooms.ts';

const within = roomsAt({ columns: 100, rows: 30 });

describe('the Pour room', () => {
  it('a number alone pours nothing, and three letters that stand nowhere name nothing', async () => {
    const night = await stocked();
    within(night, (at, store) => {
      at.press('2', 'enter');
      expect(at.state().message?.text).toContain('Type a few letters of a drink');
      at.press('esc', '2 zzz', 'enter');
      expect(at.state().message?.text).toContain('Nothing is called "zzz"');
      expect(store.books().shift?.drinks.size).toBe(0);
      at.press('esc', '2', 'down', 'enter');
      expect(store.books().shift?.drinks.size).toBe(1);
    });
  });
});

it('never cuts what a round contains, however small the window and long the list', async () => {
  const night = await stocked();
  const items = join(night.folder, 'more.csv');
  const specs = join(night.folder, 'more.txt');
  writeFileSync(
    items,
    'id,name,kind,size,allergens\northo,Nut syrup of the longest name there is,syrup,1 l,nuts|sulphites|milk|soya|sesame|mustard|celery\n',
  );
  writeFileSync(specs, '# Long Autumn\n60 ml rye\n20 ml ortho\ndo: shake\n');
  await night.ok('import', items, specs);
  roomsAt({ columns: 60, rows: 16 })(night, (at) => {
    at.press('1 lan, 1 long aut');
    const text = at.rows().join(' ').replace(/ {2,}/g, ' ');
    for (const allergen of ['eggs', 'nuts', 'sulphites', 'milk', 'soy', 'sesame', 'mustard', 'celery'])
      expect(text).toContain(allergen);
  });
});
