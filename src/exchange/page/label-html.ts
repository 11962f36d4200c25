// Labels as one page to print: each 62 × 29 mm, a common size of label printers; no script, no request.
import type { Label } from '../../domain/prep/words.ts';
import { escapeHtml } from './html.ts';

const style = `
@page{size:62mm 29mm;margin:0}
body{margin:0;font:3mm/1.25 system-ui,sans-serif;color:#000;background:#fff}
section{box-sizing:border-box;width:62mm;height:29mm;padding:2mm 3mm;overflow:hidden;break-after:page;break-inside:avoid}
h1{font-size:4.6mm;line-height:1.1;margin:0 0 .8mm;max-height:10.2mm;overflow:hidden;overflow-wrap:anywhere}
p{margin:0;overflow-wrap:anywhere}.date{font-weight:700;font-size:3.8mm}
section.long{font-size:2.3mm}.long h1{font-size:3.2mm;max-height:7.1mm}.long .date{font-size:3mm}
section.longest{font-size:1.7mm;line-height:1.15}.longest h1{font-size:2.6mm;max-height:5.8mm}.longest .date{font-size:2.6mm}
@media screen{section{border:1px solid #999;margin:4mm}}
`;

export const labelHtml = (labels: readonly Label[]): string =>
  `<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1"><title>Labels</title><style>${style}</style></head>
<body>
${labels.map(labelSection).join('\n')}
</body></html>
`;

/** Many words are set smaller: what a bottle contains must not be cut away. */
const sizeOf = ({ name, contains }: Label): string => {
  const long = name.length + contains.length;
  return long > 240 ? ' class="longest"' : long > 70 ? ' class="long"' : '';
};

const labelSection = (label: Label): string => {
  const { name, made, by, discard, contains } = label;
  const date = discard === '' ? '' : `<p class="date">${escapeHtml(discard)}</p>`;
  return `<section${sizeOf(label)}><h1>${escapeHtml(name)}</h1>${date}<p>${escapeHtml(contains)}</p><p>${escapeHtml(by === '' ? made : `${made}, ${by}`)}</p></section>`;
};
