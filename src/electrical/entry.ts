/** A line of the table of figures. */
import { type Figure, figure, notAssessed } from '../figures/figure.ts';
import { SOURCES } from './sources.ts';

export interface Entry {
  readonly what: string;
  readonly of: string;
  readonly figure: Figure;
  /** Null where it is held to nothing. */
  readonly limit: Figure | null;
}

/** A budget as a limit, or what is missing. */
export const budgetFigure = (value: number | undefined, unit: string, missing: string): Figure =>
  value === undefined ? notAssessed(missing) : figure(value, unit, 'budget', [], SOURCES.given);
