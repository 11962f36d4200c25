// Published specs, as the International Bartenders Association lists them (reference year of the list is not stated by the
// transcriptions; seen second-hand, and public transcriptions agree). The measures are the list's; where it gives no amount ("few
// dashes", "splash", "bar spoon"), two dashes and the house's own splash and bar spoon stand, common practice. Family, glass and
// garnish are words of our own. "{a|b}": whichever is stocked, the first of them before the others.

export const publishedCards = `
# Daiquiri
family: sour
glass: coupe
ice: none
tags: published | syrup for the list's sugar
60 ml      white-rum
20 ml      {lime-juice|limes juice}
2 barspoon {simple-syrup|rich-syrup}
do: shake; double strain

# Negroni
family: stirred
glass: rocks
ice: cubes
tags: published
30 ml      dry-gin
30 ml      red-bitter
30 ml      sweet-vermouth
do: stir over ice; strain over fresh ice
garnish: orange slice

# Americano
family: highball
glass: highball
ice: cubes
tags: published
30 ml      red-bitter
30 ml      sweet-vermouth
1 splash   soda-water
do: build over ice; top with soda water
garnish: orange slice

# Boulevardier
family: stirred
glass: rocks
ice: one large cube
tags: published
45 ml      {bourbon|rye}
30 ml      red-bitter
30 ml      sweet-vermouth
do: stir; strain over one large cube
garnish: orange twist

# Manhattan
family: stirred
glass: coupe
ice: none
tags: published
50 ml      rye
20 ml      sweet-vermouth
1 dash     aromatic-bitters
do: stir; strain
garnish: cherry

# Dry Martini
also: martini
family: stirred
glass: martini
ice: none
tags: published
60 ml      dry-gin
10 ml      dry-vermouth
do: stir; strain
garnish: lemon twist or olive

# Cardinale
family: stirred
glass: coupe
ice: none
tags: published
40 ml      dry-gin
20 ml      dry-vermouth
10 ml      red-bitter
do: stir; strain
garnish: orange twist

# Margarita
family: sour
glass: coupe
ice: none
tags: published
50 ml      {tequila|tequila-reposado}
20 ml      triple-sec
15 ml      {lime-juice|limes juice}
do: shake; strain
garnish: half a salt rim

# Sidecar
family: sour
glass: coupe
ice: none
tags: published
50 ml      cognac
20 ml      triple-sec
20 ml      {lemon-juice|lemons juice}
do: shake; strain
garnish: orange twist

# White Lady
family: sour
glass: coupe
ice: none
tags: published
40 ml      dry-gin
30 ml      triple-sec
20 ml      {lemon-juice|lemons juice}
do: shake; strain

# Between the Sheets
family: sour
glass: coupe
ice: none
tags: published
30 ml      white-rum
30 ml      cognac
30 ml      triple-sec
20 ml      {lemon-juice|lemons juice}
do: shake; strain

# Old Fashioned
family: old fashioned
glass: rocks
ice: one large cube
tags: published
45 ml      {bourbon|rye}
1          sugar-cube
2 dash     aromatic-bitters
do: muddle the cube with the bitters and a few dashes of water; build over ice; stir
garnish: orange twist

# Mai Tai
family: punch
glass: rocks
ice: crushed
tags: published
30 ml      jamaican-rum
30 ml      cane-rum
15 ml      orange-curacao
15 ml      orgeat
30 ml      {lime-juice|limes juice}
7.5 ml     simple-syrup
do: shake; pour over crushed ice
garnish: mint sprig, lime

# French 75
family: spritz
glass: flute
ice: none
tags: published
30 ml      dry-gin
15 ml      {lemon-juice|lemons juice}
15 ml      simple-syrup
60 ml      {champagne|sparkling-wine}
do: shake the first three; strain; top with the wine

# Sazerac
family: stirred
glass: rocks
ice: none
tags: published
50 ml      cognac
10 ml      absinthe, rinse of the glass, poured away
1          sugar-cube
2 dash     anise-bitters
do: rinse the glass; stir the rest with ice; strain
garnish: lemon twist, squeezed and left out

# Cuba Libre
family: highball
glass: highball
ice: cubes
tags: published
50 ml      white-rum
120 ml     cola
10 ml      {lime-juice|limes juice}
do: build over ice; stir once
garnish: lime wedge
`;
