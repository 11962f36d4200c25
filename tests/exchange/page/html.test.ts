// The one way from text to HTML: nothing that comes from a name is ever markup.
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { escapeHtml, htmlTable } from '../../../src/exchange/page/html.ts';

it('escapes what HTML would read', () => {
  expect(escapeHtml(`<b title="x" id='y'>gin & rye</b>`)).toBe(
    '&lt;b title=&quot;x&quot; id=&#39;y&#39;&gt;gin &amp; rye&lt;/b&gt;',
  );
  expect(escapeHtml('&amp;')).toBe('&amp;amp;');
  expect(escapeHtml('焼酎 ½ é')).toBe('焼酎 ½ é');
  expect(escapeHtml('')).toBe('');
});

it('takes out what plays tricks on the eye', () => {
  expect(escapeHtml('dry\u202egin\u0000')).toBe('drygin·');
});

/** What a browser would show of text without tags. */
const read = (html: string): string =>
  html
    .replaceAll('&lt;', '<')
    .replaceAll('&gt;', '>')
    .replaceAll('&quot;', '"')
    .replaceAll('&#39;', "'")
    .replaceAll('&amp;', '&');

it('loses nothing on the way and leaves no sign that opens or closes anything', () => {
  const text = fc.string({ unit: fc.constantFrom(...`<>&"'abc; #x/!-=`), maxLength: 30 });
  fc.assert(
    fc.property(text, (said) => {
      const html = escapeHtml(said);
      expect(html).not.toMatch(/[<>"']/);
      expect(read(html)).toBe(said);
    }),
  );
});

it('makes a table with a head, rows, and what stands left or goes on a phone', () => {
  expect(
    htmlTable(
      [{ text: 'item' }, { text: 'opening', detail: true }, { text: 'verdict', word: true }],
      [
        {
          cells: [{ text: 'gin' }, { text: '700 ml', detail: true }, { text: 'real', word: true }],
          strong: true,
        },
        { cells: [{ text: 'rye' }, { text: '' }, { text: '' }] },
      ],
    ),
  ).toBe(
    [
      '<div class="wide"><table><thead><tr><th scope="col">item</th><th scope="col" class="detail">opening</th><th scope="col" class="word">verdict</th></tr></thead>',
      '<tbody>',
      '<tr class="real"><td>gin</td><td class="detail">700 ml</td><td class="word">real</td></tr>',
      '<tr><td>rye</td><td></td><td></td></tr>',
      '</tbody></table></div>',
    ].join('\n'),
  );
});

it('lets no cell out of its cell', () => {
  const cell = fc.string({ unit: fc.constantFrom(...'<>/td"= a'), maxLength: 20 });
  fc.assert(
    fc.property(fc.array(fc.tuple(cell, cell), { maxLength: 4 }), cell, (rows, head) => {
      const html = htmlTable(
        [{ text: head }, { text: head }],
        rows.map(([a, b]) => ({ cells: [{ text: a }, { text: b }] })),
      );
      expect(html.match(/<td>/g)?.length ?? 0).toBe(rows.length * 2);
      expect(
        html.match(/<[^>]*>/g)?.every((tag) => /^<\/?(div|table|thead|tbody|tr|th|td)( |>)/.test(tag)),
      ).toBe(true);
    }),
  );
});
