import { expect, test } from 'vitest';
import { fileName } from './fileName';

test.each([
  ['Quay steps', 'Quay steps'],
  ['Firm: "2030" / A?', 'Firm- -2030- - A'],
  ['..\\secret', 'secret'],
  ['Über 5 m', 'Über 5 m'],
  [' ?? ', 'site'],
])('%s as the name of a file', (name, file) => {
  expect(fileName(name, 'site')).toBe(file);
});
