// The small house with what is made in it: sugar, fruit and cards that make a syrup, a juice and a cordial of both.
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { furnished, type Night } from './night.ts';

const items = `id,name,kind,size,abv,sugar_g_per_l,cost,place,count,allergens,keeps,opened
sugar,White sugar,sugar,1 kg,,,1.20,store,grams,,,
yuzu,Yuzu,fruit,1 each,,,0.30,fridge,pieces,,,
honey,Honey,syrup,1 kg,,,9.00,store,grams,,,
fresh-yuzu,Fresh yuzu,juice,1 l,0,16,,fridge,ml,,,
house-syrup,House syrup,syrup,1 l,0,,,fridge,ml,,,
house-cordial,House cordial,cordial,1 l,0,,,fridge,ml,,,
cream,Cream,dairy,500 ml,0,,2.00,fridge,ml,milk,5 days,2 days
fortified,Fortified wine,wine,750 ml,17,30,9.00,bar,tenths,sulphites,,14 days
`;
const cards = `# White Syrup
makes: 1.62 l house syrup
keeps: 30 days
1000 g white sugar
1 l water
do: weigh; stir until clear; bottle

# Squeezed Yuzu
makes: 300 ml fresh yuzu
keeps: 1 day
10 yuzu
do: squeeze; strain

# Yuzu Cordial
makes: 500 ml house cordial
keeps: 10 days
300 ml fresh yuzu
200 ml house syrup
do: stir; strain; bottle
`;

/** The small house with what is made in it; three in the afternoon of a Friday. */
export async function kitchen(start = '2026-11-20T15:00:00.000Z'): Promise<Night> {
  const night = await furnished(start);
  const csv = join(night.folder, 'made.csv');
  const txt = join(night.folder, 'made.txt');
  writeFileSync(csv, items);
  writeFileSync(txt, cards);
  await night.ok('import', csv, txt);
  for (const [item, reading] of [
    ['sugar', '5+0'],
    ['yuzu', '40'],
    ['fortified', '1.0'],
  ] as const)
    await night.ok('count', item, reading);
  night.later(5);
  return night;
}
