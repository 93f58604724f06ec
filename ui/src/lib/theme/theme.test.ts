/// <reference types="node" />
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';

// Contrast by WCAG 2.2: relative luminance and (L1 + 0.05) / (L2 + 0.05); 7:1 is criterion 1.4.6, 3:1 is 1.4.11.
const css = readFileSync('src/lib/theme/colours.css', 'utf8');

function colours(theme: 'day' | 'dark'): Record<string, string> {
  const block = css.slice(css.indexOf(`[data-theme='${theme}']`));
  const named: Record<string, string> = {};
  for (const [, name, value] of block.slice(0, block.indexOf('}')).matchAll(/--([\w-]+):\s*(#[0-9a-f]{6})/g)) named[name!] = value!;
  return named;
}

function luminance(hex: string): number {
  const parts = [1, 3, 5].map((at) => parseInt(hex.slice(at, at + 2), 16) / 255);
  const [r, g, b] = parts.map((c) => (c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4));
  return 0.2126 * r! + 0.7152 * g! + 0.0722 * b!;
}

function contrast(a: string, b: string): number {
  const [high, low] = [luminance(a), luminance(b)].sort((x, y) => y - x);
  return (high! + 0.05) / (low! + 0.05);
}

const texts: [string, string[]][] = [
  ['ink', ['sheet', 'paper', 'wash', 'deed-wash']],
  ['soft', ['sheet', 'paper', 'wash', 'deed-wash']],
  ['deed', ['sheet']],
  ['volt', ['sheet', 'volt-wash']],
  ['good', ['sheet', 'good-wash']],
  ['ask', ['sheet', 'ask-wash']],
  ['stop', ['sheet', 'stop-wash']],
  ['ink', ['stop-wash']],
  ['on-deed', ['deed']],
  ['on-head', ['head']],
  ['on-head-soft', ['head']],
];

describe.each(['day', 'dark'] as const)('the %s theme', (theme) => {
  const named = colours(theme);
  it('knows black on white, so the measure itself holds', () => {
    expect(contrast('#000000', '#ffffff')).toBeCloseTo(21);
  });
  for (const [text, grounds] of texts)
    for (const ground of grounds)
      it(`sets ${text} on ${ground} at 7:1 or better`, () => {
        expect(contrast(named[text]!, named[ground]!)).toBeGreaterThanOrEqual(7);
      });
  it('outlines lamps, steel and focus at 3:1 or better', () => {
    for (const edge of ['lamp-edge', 'steel-edge', 'focus']) expect(contrast(named[edge]!, named.sheet!)).toBeGreaterThanOrEqual(3);
  });
  it('names the same colours as the other theme', () => {
    expect(Object.keys(named).sort()).toEqual(Object.keys(colours(theme === 'day' ? 'dark' : 'day')).sort());
  });
});
