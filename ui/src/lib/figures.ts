/** Numbers as people read them: grouped by thousands, a real minus sign, the same in every locale. */
import type { Figure, StepRole } from './generated/types';

const MINUS = '\u2212';
const NARROW = '\u202f';

/** A number with a fixed count of decimals and grouped thousands. */
export function grouped(value: number, decimals = 0): string {
  if (!Number.isFinite(value)) return 'no number';
  const [whole = '0', part] = Math.abs(value).toFixed(decimals).split('.');
  const digits = whole.replace(/\B(?=(\d{3})+$)/g, ',');
  const shown = part === undefined ? digits : `${digits}.${part}`;
  const isZero = !/[1-9]/.test(shown);
  return value < 0 && !isZero ? MINUS + shown : shown;
}

/** Millimetres, with tenths only where there are any. */
export function mm(value: number): string {
  const tenths = Math.round(value * 10);
  return grouped(tenths / 10, tenths % 10 === 0 ? 0 : 1);
}

/** Metres with two decimals, from millimetres. */
export function metres(valueMm: number): string {
  return `${grouped(valueMm / 1000, 2)}${NARROW}m`;
}

/** Volts with two decimals; the unit stands beside it or at the head of the column. */
export function volts(value: number): string {
  return grouped(value, 2);
}

/** A figure with its unit. */
export function figure(shown: Figure): string {
  const number = grouped(shown.value, shown.decimals);
  if (shown.unit === '') return number;
  return `${number}${NARROW}${shown.unit}`;
}

/** A figure of a step: what is added or taken away carries its sign. */
export function stepFigure(shown: Figure, role: StepRole): string {
  const text = figure(shown);
  return role === 'change' && shown.value > 0 ? `+${text}` : text;
}
