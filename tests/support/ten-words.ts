// Ten invented first words of drinks: with others behind them, a book of any size.
export const tenWords = [
  'Lantern',
  'Harbour',
  'Marble',
  'Velvet',
  'Copper',
  'Saffron',
  'Winter',
  'Orchard',
  'Signal',
  'Paper',
];
