/** The keys of the photos page, as the sheet of keys shows them. */
export const PHOTO_CHEATS: [string, [string, string][]][] = [
  [
    'Photos',
    [
      ['← → ↑ ↓', 'from photo to photo'],
      ['Shift ← →', 'choose a stretch'],
      ['Space', 'choose one more, or one less'],
      ['Ctrl A', 'choose all that are shown'],
      ['Enter', 'open the photo'],
      ['Esc', 'choose none; close the photo'],
    ],
  ],
  [
    'An open photo',
    [
      ['← →', 'previous, next photo; move the view when zoomed in'],
      ['+ −', 'zoom in and out'],
      ['0', 'the whole photo'],
      ['A D B T', 'arrow, dimension, box, text'],
      ['Arrows, Enter', 'aim and draw; Shift aims finely'],
      ['M, Delete', 'next mark; remove it'],
    ],
  ],
];
