import { describe, expect, it } from 'vitest';
import { figure, grouped, metres, mm, stepFigure } from './figures';

describe('figures', () => {
  it('groups thousands and keeps a real minus sign', () => {
    expect(grouped(14820)).toBe('14,820');
    expect(grouped(-1234.5, 1)).toBe('\u22121,234.5');
    expect(grouped(1234567.891, 2)).toBe('1,234,567.89');
  });
  it('never shows a minus before nothing', () => {
    expect(grouped(-0.001, 2)).toBe('0.00');
  });
  it('does not print what is no number as one', () => {
    expect(grouped(Number.NaN, 2)).toBe('no number');
  });
  it('shows tenths of a millimetre only where there are any', () => {
    expect(mm(259)).toBe('259');
    expect(mm(282.5)).toBe('282.5');
    expect(mm(1999.96)).toBe('2,000');
  });
  it('sets the unit after a narrow space', () => {
    expect(metres(24600)).toBe('24.60\u202fm');
    expect(figure({ value: 11.534, unit: 'V', decimals: 2 })).toBe('11.53\u202fV');
    expect(figure({ value: 43, unit: '', decimals: 0 })).toBe('43');
  });
  it('gives a change its sign', () => {
    expect(stepFigure({ value: 312, unit: 'mm', decimals: 0 }, 'change')).toBe('+312\u202fmm');
    expect(stepFigure({ value: -0.09, unit: 'V', decimals: 2 }, 'change')).toBe('\u22120.09\u202fV');
    expect(stepFigure({ value: 312, unit: 'mm', decimals: 0 }, 'result')).toBe('312\u202fmm');
  });
});
