// What a bar may stock, in plain words of the trade, as a new house is offered it. A row: id; name; other names; kind; size of one
// container, and in the USA where it is another; strength, % by volume; sugar, g/l; allergens; place; what else the items file knows.
//
// Sources. Sizes of spirits, wine and fortified wine: among the nominal quantities of Directive 2007/45/EC (UK: "Specified
// quantities") and, for the USA, of 27 CFR 5.203 and 4.72 (2025); tests/standards/fills.test.ts holds them to these. Kegs: common
// practice, no source. Sugar of syrups by weight: CRC Handbook, concentrative properties of sucrose; honey: USDA SR 169640. Acid and
// sugar of lemon and lime juice: Arnold, Liquid Intelligence, 2014, p. 136. Yields of a fruit: common practice, no source. Strengths,
// sugars of liqueurs, wines and mixers, and all other sizes: from memory, and to be read off the label. Allergens: judgement, after
// Regulation (EU) 1169/2011 Annex II; grain and nuts for distillates are exempt there. None named never means "free from".

export const stockKinds = `
dry-gin; Dry gin; gin; spirit; 700 ml|750 ml; 40; ; ; well
sweet-gin; Sweetened old-style gin; ; spirit; 700 ml|750 ml; 40; 20; ; back bar
sloe-gin; Sloe gin; ; liqueur; 700 ml|750 ml; 26; 200; ; back bar
genever; Genever; ; spirit; 700 ml|750 ml; 38; ; ; back bar
vodka; Vodka; ; spirit; 700 ml|750 ml; 40; ; ; well
lemon-vodka; Lemon vodka; citrus vodka; spirit; 700 ml|750 ml; 40; ; ; back bar
white-rum; White rum; light rum; spirit; 700 ml|750 ml; 40; ; ; well
gold-rum; Gold rum; golden rum; spirit; 700 ml|750 ml; 40; ; ; well
dark-rum; Dark rum; ; spirit; 700 ml|750 ml; 40; ; ; back bar
jamaican-rum; Amber Jamaican rum; jamaican rum; spirit; 700 ml|750 ml; 40; ; ; back bar
cane-rum; Martinique molasses rum; martinique rum; spirit; 700 ml|750 ml; 40; ; ; back bar
overproof-rum; Overproof rum; ; spirit; 700 ml|750 ml; 63; ; ; back bar; caution=flammable, keep away from flame
spiced-rum; Spiced rum; ; spirit; 700 ml|750 ml; 35; ; ; back bar
cachaca; Cachaça; ; spirit; 700 ml|750 ml; 40; ; ; back bar
tequila; Tequila blanco; tequila; spirit; 700 ml|750 ml; 40; ; ; well
tequila-reposado; Tequila reposado; ; spirit; 700 ml|750 ml; 40; ; ; back bar
mezcal; Mezcal; ; spirit; 700 ml|750 ml; 42; ; ; back bar
bourbon; Bourbon; ; spirit; 700 ml|750 ml; 45; ; ; well
rye; Rye whiskey; rye; spirit; 700 ml|750 ml; 45; ; ; well
scotch-blended; Blended Scotch; scotch; spirit; 700 ml|750 ml; 40; ; ; well
scotch-malt; Single malt Scotch; single malt; spirit; 700 ml|750 ml; 43; ; ; back bar
scotch-smoky; Smoky malt Scotch; smoky malt; spirit; 700 ml|750 ml; 46; ; ; back bar
irish-whiskey; Irish whiskey; ; spirit; 700 ml|750 ml; 40; ; ; back bar
japanese-whisky; Japanese whisky; ; spirit; 700 ml|750 ml; 43; ; ; back bar
cognac; Cognac; ; spirit; 700 ml|750 ml; 40; ; ; back bar
brandy; Brandy; ; spirit; 700 ml|750 ml; 38; ; ; back bar
armagnac; Armagnac; ; spirit; 700 ml|750 ml; 40; ; ; back bar
calvados; Calvados; ; spirit; 700 ml|750 ml; 40; ; ; back bar
apple-brandy; Apple brandy; ; spirit; 700 ml|750 ml; 40; ; ; back bar
pisco; Pisco; ; spirit; 700 ml|750 ml; 40; ; ; back bar
grappa; Grappa; ; spirit; 700 ml|750 ml; 40; ; ; back bar
pear-brandy; Pear brandy; ; spirit; 700 ml|750 ml; 40; ; ; back bar
aquavit; Aquavit; akvavit; spirit; 700 ml|750 ml; 42; ; ; back bar
absinthe; Absinthe; ; spirit; 700 ml|750 ml; 65; ; ; back bar; caution=flammable, keep away from flame
pastis; Pastis; ; spirit; 700 ml|750 ml; 45; 20; ; back bar
soju; Soju; ; spirit; 350 ml|375 ml; 17; ; ; fridge; count=pieces
baijiu; Baijiu; ; spirit; 500 ml; 52; ; ; back bar
triple-sec; Triple sec; orange liqueur; liqueur; 700 ml|750 ml; 40; 250; ; well
orange-curacao; Orange curaçao; curacao; liqueur; 700 ml|750 ml; 40; 240; ; back bar
blue-curacao; Blue curaçao; ; liqueur; 700 ml|750 ml; 24; 280; ; back bar
maraschino; Maraschino; ; liqueur; 700 ml|750 ml; 32; 350; ; back bar
red-bitter; Red bitter; bitter aperitif; liqueur; 700 ml|750 ml; 25; 250; ; well
orange-aperitif; Orange aperitif; ; liqueur; 700 ml|750 ml; 11; 230; ; well
green-herbal; Green herbal liqueur; ; liqueur; 700 ml|750 ml; 55; 250; ; back bar
yellow-herbal; Yellow herbal liqueur; ; liqueur; 700 ml|750 ml; 40; 310; ; back bar
herbal-digestif; Bitter herbal digestif; amaro; liqueur; 700 ml|750 ml; 30; 200; ; back bar
mint-digestif; Green mint liqueur; creme de menthe; liqueur; 700 ml|750 ml; 24; 350; ; back bar
mint-white; White mint liqueur; white creme de menthe; liqueur; 700 ml|750 ml; 24; 350; ; back bar
coffee-liqueur; Coffee liqueur; ; liqueur; 700 ml|750 ml; 20; 390; ; back bar
cacao-dark; Dark cacao liqueur; dark creme de cacao; liqueur; 700 ml|750 ml; 24; 350; ; back bar
cacao-white; White cacao liqueur; white creme de cacao; liqueur; 700 ml|750 ml; 24; 350; ; back bar
almond-liqueur; Almond-flavoured liqueur; amaretto; liqueur; 700 ml|750 ml; 28; 280; ; back bar; caution=nuts: ask the label
hazelnut-liqueur; Hazelnut liqueur; ; liqueur; 700 ml|750 ml; 20; 280; nuts; back bar
elderflower-liqueur; Elderflower liqueur; ; liqueur; 700 ml|750 ml; 20; 180; ; back bar
violet-liqueur; Violet liqueur; ; liqueur; 700 ml|750 ml; 20; 300; ; back bar
cassis; Blackcurrant liqueur; creme de cassis|cassis; liqueur; 700 ml|750 ml; 16; 400; ; back bar
blackberry-liqueur; Blackberry liqueur; creme de mure; liqueur; 700 ml|750 ml; 16; 350; ; back bar
raspberry-liqueur; Raspberry liqueur; ; liqueur; 700 ml|750 ml; 16; 300; ; back bar
strawberry-liqueur; Strawberry liqueur; ; liqueur; 700 ml|750 ml; 16; 300; ; back bar
cherry-liqueur; Cherry liqueur; ; liqueur; 700 ml|750 ml; 24; 280; ; back bar
apricot-liqueur; Apricot liqueur; apricot brandy; liqueur; 700 ml|750 ml; 24; 280; ; back bar
peach-liqueur; Peach liqueur; ; liqueur; 700 ml|750 ml; 18; 260; ; back bar
pear-liqueur; Pear liqueur; ; liqueur; 700 ml|750 ml; 22; 250; ; back bar
banana-liqueur; Banana liqueur; ; liqueur; 700 ml|750 ml; 22; 300; ; back bar
melon-liqueur; Melon liqueur; ; liqueur; 700 ml|750 ml; 20; 300; ; back bar
lychee-liqueur; Lychee liqueur; ; liqueur; 700 ml|750 ml; 20; 280; ; back bar
passion-liqueur; Passion fruit liqueur; ; liqueur; 700 ml|750 ml; 18; 250; ; back bar
coconut-liqueur; Coconut liqueur; ; liqueur; 700 ml|750 ml; 21; 200; ; back bar
ginger-liqueur; Ginger liqueur; ; liqueur; 700 ml|750 ml; 20; 250; ; back bar
honey-liqueur; Honey whisky liqueur; ; liqueur; 700 ml|750 ml; 35; 280; ; back bar
vanilla-liqueur; Vanilla liqueur; ; liqueur; 700 ml|750 ml; 30; 300; ; back bar
limoncello; Limoncello; ; liqueur; 700 ml|750 ml; 28; 280; ; fridge
sambuca; Sambuca; ; liqueur; 700 ml|750 ml; 38; 350; ; back bar; caution=flammable, keep away from flame
cream-liqueur; Cream liqueur; ; liqueur; 700 ml|750 ml; 17; 200; milk; fridge
egg-liqueur; Egg liqueur; advocaat; liqueur; 700 ml|750 ml; 14; 250; eggs; fridge
pimento-liqueur; Pimento liqueur; allspice liqueur; liqueur; 700 ml|750 ml; 22; 250; ; back bar
falernum; Falernum liqueur; falernum; liqueur; 700 ml|750 ml; 15; 400; ; back bar; caution=nuts: ask the label
sweet-vermouth; Sweet red vermouth; sweet vermouth|red vermouth; fortified; 750 ml; 16; 150; sulphites; fridge
dry-vermouth; Dry vermouth; ; fortified; 750 ml; 18; 30; sulphites; fridge
white-vermouth; Sweet white vermouth; bianco vermouth; fortified; 750 ml; 16; 150; sulphites; fridge
quinquina; Quinine aperitif wine; quinquina; fortified; 750 ml; 17; 120; sulphites; fridge
fino-sherry; Fino sherry; fino; fortified; 750 ml; 15; 5; sulphites; fridge
amontillado; Amontillado sherry; ; fortified; 750 ml; 18; 5; sulphites; fridge
cream-sherry; Cream sherry; ; fortified; 750 ml; 18; 120; sulphites; fridge
ruby-port; Ruby port; port; fortified; 750 ml; 20; 100; sulphites; back bar
tawny-port; Tawny port; ; fortified; 750 ml; 20; 100; sulphites; back bar
madeira; Madeira; ; fortified; 750 ml; 19; 60; sulphites; back bar
sparkling-wine; Sparkling wine; bubbles|prosecco|cava; wine; 750 ml; 11.5; 10; sulphites; fridge
champagne; Champagne; ; wine; 750 ml; 12; 8; sulphites; fridge
white-wine; House white wine; white wine; wine; 750 ml; 12.5; ; sulphites; fridge
red-wine; House red wine; red wine; wine; 750 ml; 13.5; ; sulphites; back bar
rose-wine; House rosé wine; rose wine; wine; 750 ml; 12.5; ; sulphites; fridge
sake; Sake; ; wine; 720 ml; 15; ; ; fridge
lager-bottle; Bottled lager; lager; beer; 330 ml|355 ml; 5; ; gluten; fridge; count=pieces; case=24
pale-ale-bottle; Bottled pale ale; pale ale; beer; 330 ml|355 ml; 5; ; gluten; fridge; count=pieces; case=24
stout-bottle; Bottled stout; stout; beer; 330 ml|355 ml; 5; ; gluten; fridge; count=pieces; case=24
wheat-beer; Bottled wheat beer; wheat beer; beer; 500 ml; 5; ; gluten; fridge; count=pieces; case=20
alcohol-free-beer; Alcohol-free beer; ; beer; 330 ml|355 ml; 0.5; ; gluten; fridge; count=pieces; case=24
lager-keg; Keg lager; draught lager; beer; 30 l|15.5 us-gallon; 5; ; gluten; cellar
ale-keg; Keg pale ale; draught ale; beer; 30 l|15.5 us-gallon; 5; ; gluten; cellar
cider-bottle; Bottled cider; cider; cider; 330 ml|355 ml; 5; ; sulphites; fridge; count=pieces; case=24
aromatic-bitters; Aromatic bitters; ; bitters; 200 ml|4 us-oz; 44; ; ; well
orange-bitters; Orange bitters; ; bitters; 100 ml|5 us-oz; 30; ; ; well
anise-bitters; Anise bitters; creole bitters; bitters; 100 ml|5 us-oz; 35; ; ; well
grapefruit-bitters; Grapefruit bitters; ; bitters; 100 ml|5 us-oz; 35; ; ; well
chocolate-bitters; Chocolate bitters; ; bitters; 100 ml|5 us-oz; 35; ; ; well
celery-bitters; Celery bitters; ; bitters; 100 ml|5 us-oz; 35; ; celery; well
lemon-juice; Lemon juice; ; juice; 1 l; ; 16; ; fridge; acid=60; count=ml
lime-juice; Lime juice; ; juice; 1 l; ; 16; ; fridge; acid=60; count=ml
orange-juice; Orange juice; ; juice; 1 l; ; 84; ; fridge; count=ml
grapefruit-juice; Grapefruit juice; ; juice; 1 l; ; 70; ; fridge; count=ml
pineapple-juice; Pineapple juice; ; juice; 1 l; ; 105; ; fridge; count=ml
apple-juice; Apple juice; ; juice; 1 l; ; 105; ; fridge; count=ml
cranberry-juice; Cranberry juice drink; cranberry juice; juice; 1 l; ; 110; ; fridge; count=ml
tomato-juice; Tomato juice; ; juice; 1 l; ; 30; ; fridge; count=ml; caution=celery: ask the label
passion-puree; Passion fruit purée; passion fruit; juice; 1 l; ; 100; ; fridge; count=ml
peach-puree; White peach purée; peach puree; juice; 1 l; ; 100; ; fridge; count=ml
simple-syrup; Simple syrup 1:1; simple syrup|sugar syrup; syrup; 1 l; ; 615; ; fridge; count=ml
rich-syrup; Rich syrup 2:1; rich syrup|rich simple syrup; syrup; 1 l; ; 884.5; ; fridge; count=ml
demerara-syrup; Demerara syrup; ; syrup; 1 l; ; 615; ; fridge; count=ml
honey-syrup; Honey syrup; ; syrup; 700 ml; ; 640; ; fridge; count=ml
agave-syrup; Agave syrup; ; syrup; 700 ml; ; 900; ; back bar; count=ml
maple-syrup; Maple syrup; ; syrup; 700 ml; ; 880; ; back bar; count=ml
grenadine; Grenadine; ; syrup; 700 ml; ; 780; ; back bar; count=ml
orgeat; Orgeat; almond syrup; syrup; 700 ml; ; 720; nuts; back bar; count=ml
raspberry-syrup; Raspberry syrup; ; syrup; 700 ml; ; 600; ; fridge; count=ml
ginger-syrup; Ginger syrup; ; syrup; 700 ml; ; 580; ; fridge; count=ml
vanilla-syrup; Vanilla syrup; ; syrup; 700 ml; ; 780; ; back bar; count=ml
cinnamon-syrup; Cinnamon syrup; ; syrup; 700 ml; ; 600; ; fridge; count=ml
elderflower-cordial; Elderflower cordial; ; syrup; 500 ml; ; 480; ; fridge; count=ml
lime-cordial; Lime cordial; ; syrup; 1 l; ; 300; sulphites; back bar; count=ml
coconut-cream; Cream of coconut; ; syrup; 500 ml; ; 500; ; back bar; count=ml; caution=milk: ask the label
soda-water; Soda water; soda; mixer; 1 l; ; 0; ; fridge; count=ml
tonic-water; Tonic water; tonic; mixer; 1 l; ; 85; ; fridge; count=ml
ginger-beer; Ginger beer; ; mixer; 1 l; ; 95; ; fridge; count=ml
ginger-ale; Ginger ale; ; mixer; 1 l; ; 85; ; fridge; count=ml
cola; Cola; ; mixer; 1 l; ; 106; ; fridge; count=ml
lemonade; Lemonade; lemon soda; mixer; 1 l; ; 90; ; fridge; count=ml
grapefruit-soda; Grapefruit soda; ; mixer; 1 l; ; 90; ; fridge; count=ml
bitter-lemon; Bitter lemon; ; mixer; 1 l; ; 95; ; fridge; count=ml
still-water; Bottled still water; still water; mixer; 330 ml; ; 0; ; fridge; count=pieces; case=24
espresso; Espresso; coffee; mixer; 1 l; ; 0; ; bar; count=ml
cream; Cream; single cream; dairy; 500 ml; ; ; milk; fridge; count=ml
milk; Milk; ; dairy; 1 l; ; ; milk; fridge; count=ml
egg-white; Egg white; ; egg; 1 each; ; ; eggs; fridge; case=30
egg; Whole egg; ; egg; 1 each; ; ; eggs; fridge; case=30
lemons; Lemons; lemon; fruit; 1 each; ; ; ; fridge; yields=44 ml juice|8 wedge
limes; Limes; lime; fruit; 1 each; ; ; ; fridge; yields=30 ml juice|8 wedge
oranges; Oranges; orange; fruit; 1 each; ; ; ; fridge; yields=65 ml juice|8 wedge
grapefruits; Grapefruits; grapefruit; fruit; 1 each; ; ; ; fridge; yields=190 ml juice
pineapple; Pineapple; ; fruit; 1 each; ; ; ; fridge
cucumber; Cucumber; ; fruit; 1 each; ; ; ; fridge
mint; Mint bunch; mint; herb; 1 each; ; ; ; fridge
basil; Basil bunch; basil; herb; 1 each; ; ; ; fridge
rosemary; Rosemary bunch; rosemary; herb; 1 each; ; ; ; fridge
cocktail-cherries; Cocktail cherries; cherry; garnish; 1 each; ; ; ; bar; caution=sulphites: ask the label
olives; Olives; olive; garnish; 1 each; ; ; ; fridge
sugar-cube; Sugar cubes; sugar cube; other; 1 each; ; ; ; bar
chilli-sauce; Hot pepper sauce; ; other; 60 ml|2 us-oz; ; ; ; bar
spiced-sauce; Spiced fish-and-tamarind sauce; ; other; 150 ml; ; ; fish; bar
salt-solution; Salt solution; saline; other; 100 ml; ; ; ; bar
`;
