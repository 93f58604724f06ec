/** The keys of the catalogue page, as the sheet of keys shows them. */
export const CATALOGUE_KEYS: [string, [string, string][]][] = [
  [
    'Catalogue',
    [
      ['/', 'find a part'],
      ['1 to 7', 'luminaires, drivers … labour, about'],
      ['↑ ↓ Home End', 'from part to part'],
      ['Enter', 'to the part’s form; Esc back to the list'],
      ['N', 'new part'],
      ['D', 'duplicate the part'],
      ['Delete', 'take the part out'],
      ['I, E', 'import, export'],
    ],
  ],
];
