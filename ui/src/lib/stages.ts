/** How far a job has come: the word that is stored, and the word that is shown. */
export const STAGES: [string, string][] = [
  ['survey', 'Survey'],
  ['scheme', 'Scheme'],
  ['price', 'Price'],
  ['fit', 'Fit'],
];
