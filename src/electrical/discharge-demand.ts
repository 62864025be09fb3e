/** What discharge asks of the supply cells of a net: only where they hold the clamps. */
import { type Figure, figure, input, notAssessed, ratio } from '../figures/figure.ts';
import type { ElectricalRules } from '../format/placement.ts';
import type { Searched } from './discharge.ts';
import { type Group, supplyCells } from './groups.ts';
import type { Missing } from './metal.ts';
import { SOURCES } from './sources.ts';

/**
 * The worst drop along rails, beyond what the rails drop between the two pads whatever clamps there are, falls as
 * the distance between clamps does: with their number. An estimate, confirmed or not by the next assessment.
 */
export function dischargeDemand(group: Group, rules: ElectricalRules, searched: Searched | Missing): Figure {
  if ('missing' in searched) return notAssessed(searched.missing);
  const budget = rules.discharge?.rail ?? null;
  if (budget === null) return notAssessed('a budget for the drop along rails in a discharge');
  const holders = supplyCells(group).filter(({ cell }) => cell.footprint.clamps.length > 0);
  if (holders.length === 0) return notAssessed(`clamps in the supply cells of ${group.name}`);
  const own = new Set(holders.map(({ cell }) => cell.cell.name));
  let worst: { rail: number; floor: number } | undefined;
  for (const { legs, rail, floor } of searched.worst) {
    if (!legs.some((leg) => leg.what === 'clamp' && leg.cell !== null && own.has(leg.cell))) continue;
    if (worst === undefined || rail > worst.rail) worst = { rail, floor };
  }
  if (worst === undefined) return notAssessed(`a discharge path through a clamp of ${group.name}`);
  const room = budget - worst.floor;
  if (!(room > 0))
    return notAssessed(
      `a count for discharge: the rails alone drop ${worst.floor.toPrecision(3)} V, whatever clamps there are`,
    );
  return figure(
    Math.max(1, Math.ceil(ratio(holders.length * (worst.rail - worst.floor), room))),
    'cells',
    'clamps (rail drop - floor) / (budget - floor), rounded up',
    [
      input('clamps', holders.length, ''),
      input('rail drop', worst.rail, 'V'),
      input('floor', worst.floor, 'V'),
      input('budget', budget, 'V'),
    ],
    SOURCES.body,
  );
}
