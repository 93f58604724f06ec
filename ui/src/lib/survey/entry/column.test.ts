import { describe, expect, it } from 'vitest';
import { isColumn, readColumn } from './column';

const top = { at: null, spacing: null };
const read = (text: string, shown: 'mm' | 'in' = 'mm', said?: 'm') =>
  readColumn(text, top, shown, said).lines.map((line) => line.entry.chainages ?? line.entry.why);

describe('a pasted column', () => {
  it('is told from a single cell', () => {
    expect(isColumn('500')).toBe(false);
    expect(isColumn('500\n')).toBe(false);
    expect(isColumn('500\r\n1600\r\n')).toBe(true);
  });
  it('takes the first cell of each line and leaves the heading out', () => {
    expect(read('Chainage\tWhat\n500\tpost\n1600\tpost\n\n2700\tpost\n')).toEqual([[500], [1600], [2700]]);
  });
  it('takes the unit of its heading for bare numbers', () => {
    expect(read('Chainage (m)\n0.5\n1.6')).toEqual([[500], [1600]]);
    expect(read('Posts, ft\n1\n2 m')).toEqual([[304.8], [2000]]);
    expect(read('chainage in mm\n500')).toEqual([[500]]);
  });
  it('takes the unit that was said over the one that is shown', () => {
    expect(read('0.5\n1.6', 'mm', 'm')).toEqual([[500], [1600]]);
    expect(read('10\n20', 'in')).toEqual([[254], [508]]);
  });
  it('settles what commas mean from the whole column', () => {
    expect(read('m\n0,500\n1,600\n2,750')).toEqual([[500], [1600], [2750]]);
    expect(read('0,5 m\n2,450 m')).toEqual([[500], [2450]]);
    expect(read('1,100\n2,200.5')).toEqual([[1100], [2200.5]]);
    // 1,5 can only be decimal and 1,234.5 can only be grouped: each cell is then read by itself.
    expect(read('1,5\n1,234.5\n1,100')).toEqual([[1.5], [1234.5], [1100]]);
  });
  it('follows spacings and repeats down the column', () => {
    expect(read('500\n+1100\nx2\n+900')).toEqual([[500], [1600], [2700, 3800], [4700]]);
  });
  it('keeps a wrong cell with its reason and goes on', () => {
    const lines = read('500\npost?\n1,600 m\n2700');
    expect(lines[0]).toEqual([500]);
    expect(lines[1]).toContain('no length');
    expect(lines[2]).toContain('could be');
    expect(lines[3]).toEqual([2700]);
  });
  it('reads quoted cells and old line ends', () => {
    expect(read('"500"\r"1,600"')).toEqual([[500], [1600]]);
  });
});
