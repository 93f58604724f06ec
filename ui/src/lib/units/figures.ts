/** Figures that came with their unit, and the heads of columns, in the units that the person reads. */
import { figure, stepFigure } from '../figures';
import type { Figure, StepRole } from '../generated/types';
import { feetAndInches, type System } from './show';

/** The unit at the head of a column of lengths. */
export function headUnit(system: System): string {
  return system === 'metric' ? 'mm' : 'ft in';
}

/** Millimetres in a figure that is a length; null in any other. */
function lengthMm(shown: Figure): number | null {
  if (shown.unit === 'mm') return shown.value;
  return shown.unit === 'm' ? shown.value * 1000 : null;
}

/** A figure with its unit. */
export function figureIn(shown: Figure, system: System): string {
  const mm = lengthMm(shown);
  return system === 'metric' || mm === null ? figure(shown) : feetAndInches(mm);
}

/** A figure of a step: what is added or taken away carries its sign. */
export function stepFigureIn(shown: Figure, role: StepRole, system: System): string {
  const mm = lengthMm(shown);
  if (system === 'metric' || mm === null) return stepFigure(shown, role);
  return role === 'change' && mm > 0 ? `+${feetAndInches(mm)}` : feetAndInches(mm);
}
