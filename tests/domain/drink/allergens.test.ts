// What a card says of allergens, and what a list without one leaves out: never less than was written, never "free from".
// Words and lists: Regulation (EU) 1169/2011, Annex II; FALCPA 2004 and the FASTER Act 2021.
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { furnished, type Night } from '../../support/night.ts';

const items = `id,name,kind,size,abv,allergens
orgeat,Orgeat,syrup,500 ml,,almonds|peanut
filbert,Filbert liqueur,liqueur,700 ml,20,hazelnut
cream,Cream liqueur,liqueur,700 ml,17,dairy
odd,Odd cordial,syrup,500 ml,,hazlenutt
ale,Pale ale,beer,330 ml,5,
wine,White wine,wine,750 ml,12,sulfites
`;
const specs = `# Nutty
50 ml dry gin
20 ml orgeat
20 ml filbert liqueur
20 ml cream liqueur
# Plain Gin
50 ml dry gin
# Odd One
50 ml dry gin
10 ml odd cordial
# Half Ale
100 ml pale ale
# Spritzer
100 ml white wine
# White Cap
50 ml dry gin
1 egg white
`;

async function house(list: 'eu' | 'us' = 'eu'): Promise<{ night: Night; said: string }> {
  const night = await furnished();
  await night.ok('house allergens', list);
  writeFileSync(join(night.folder, 'a.csv'), items);
  writeFileSync(join(night.folder, 'a.txt'), specs);
  const outcome = await night.run('import', join(night.folder, 'a.csv'), join(night.folder, 'a.txt'));
  return { night, said: outcome.err };
}
const allergensOf = async (night: Night, spec: string) =>
  (await night.json<{ allergens: string[] }>('spec', spec)).allergens;
const namesOf = async (night: Night, filter: string) =>
  (await night.json<{ name: string }[]>('specs', filter)).map(({ name }) => name);

describe('a card', () => {
  it('names every allergen by the house list, in its order', async () => {
    const { night } = await house('eu');
    expect(await allergensOf(night, 'nutty')).toEqual(['peanuts', 'milk', 'nuts']);
    const us = await house('us');
    expect(await allergensOf(us.night, 'nutty')).toEqual(['milk', 'tree nuts', 'peanuts']);
  });

  it('shows a word that nobody knows, or that the list does not have, as it was written', async () => {
    const { night } = await house('eu');
    expect(await allergensOf(night, 'odd one')).toEqual(['hazlenutt']);
    const us = await house('us');
    expect(await allergensOf(us.night, 'spritzer')).toEqual(['sulfites']);
  });

  it('asks about it at import', async () => {
    const { said } = await house();
    expect(said).toContain(
      'Odd cordial: nobody knows the allergen "hazlenutt". It is shown as written. Did you mean nuts?',
    );
  });
});

describe('a list without an allergen', () => {
  it.each([
    ['no nuts', ['Nutty', 'Odd One']],
    ['no eggs', ['Lantern Sour', 'Odd One', 'White Cap']],
    ['no milk', ['Nutty', 'Odd One']],
    ['no gluten', ['Half Ale', 'Odd One']],
    ['no sulphites', ['Odd One', 'Spritzer']],
    ['no peanuts', ['Nutty', 'Odd One']],
    // Words that are no allergen together: each alone.
    ['no egg juice', ['Lantern Sour', 'Odd One', 'White Cap']],
    ['no milk syrup', ['Nutty', 'Odd One']],
  ])('%s leaves out what holds it, what may, and what nobody knows', async (filter, gone) => {
    const { night } = await house();
    const all = await namesOf(night, '');
    const left = await namesOf(night, filter);
    expect(all.filter((name) => !left.includes(name)).sort()).toEqual(gone);
  });

  it('says what it could not know', async () => {
    const { night } = await house();
    const outcome = await night.run('specs no nuts');
    // Six small items and six more; eggs, orgeat, filbert, cream, odd and wine say something.
    expect(outcome.err).toBe('ask the label of nuts: 6 of 12 items say nothing\n');
    expect((await night.run('specs with rye')).err).toBe('');
    expect((await night.run('specs no rye')).err).toContain('items say nothing');
    expect((await night.run('specs no hazlenutt')).err).toBe(
      'nobody knows "hazlenutt", so nothing was left out; did you mean nuts?\n',
    );
    expect((await night.run('specs no gin')).err).toBe('');
  });
});

describe('what is not measured by volume', () => {
  it("an egg's white counts as 30 ml, or as the house says: 50 + 30 ml, 40 % of 50 is 25 %", async () => {
    const { night } = await house();
    type Card = { volumeMl: number; abvPercent: number };
    expect(await night.json<Card>('spec white-cap')).toMatchObject({ volumeMl: 80, abvPercent: 25 });
    await night.ok('house egg-white 40');
    expect((await night.json<Card>('spec white-cap')).volumeMl).toBe(90);
  });

  it('juice of a fruit counts in volume, strength, sugar and acid: 50 + 20 + 25 ml', async () => {
    const { night } = await house();
    const items = 'id,name,kind,size,yields\nlime,Lime,fruit,1 each,25 ml juice|8 wedge\n';
    const card = '# Sharp\n50 ml dry gin\n20 ml simple syrup\n25 ml lime juice\n1 wedge lime\ndo: shake\n';
    writeFileSync(join(night.folder, 'l.csv'), items);
    writeFileSync(join(night.folder, 'l.txt'), card);
    await night.ok('import', join(night.folder, 'l.csv'), join(night.folder, 'l.txt'));
    const sharp = await night.json<Record<string, number>>('spec sharp');
    // 20 of 95 ml alcohol; sugar 20 ml at 615 g/l and 25 ml at 16 g/l; acid 25 ml at 60 g/l. The wedge is the guest's.
    expect(sharp.volumeMl).toBe(95);
    expect(sharp.abvPercent).toBeCloseTo((100 * 20) / 95, 2);
    expect(sharp.sugarGrams).toBeCloseTo(12.3 + 0.4, 2);
    expect(sharp.acidGrams).toBeCloseTo(1.5, 2);
    const batch = await night.json<{ batch: { totalMl: number } }>('spec sharp --fill 950');
    expect(batch.batch.totalMl).toBeCloseTo(950, 1);
  });
});
