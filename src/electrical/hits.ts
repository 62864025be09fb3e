/** What the electrical rules complain of in an assessed placement, rule by rule. Only what is assessed is held. */
import { isAssessed, ratio, within } from '../figures/figure.ts';
import type { PlacedCell, Placement } from '../format/placement.ts';
import { type Arc, arcName, cellName, nearestCell, padName, type RingCell, ringCells } from './arcs.ts';
import type { Assessment } from './assess.ts';
import { currentOfWire } from './bonding.ts';
import { DEMAND_WORDS } from './counts.ts';
import type { DischargePath } from './discharge.ts';
import type { PadEnds } from './paths.ts';
import { mostLoaded, oneMore } from './rails.ts';
import { ELECTRICAL, type ElectricalHit, type ElectricalRule, electricalRules } from './rules.ts';
import { stemLoads } from './stems.ts';
import { stripShapeHits } from './strip-shapes.ts';

export interface RuleHits {
  readonly rule: ElectricalRule;
  readonly hits: readonly ElectricalHit[];
}

/** The middle of a cell in picometres. */
const middle = ({ x, y, width, height }: PlacedCell): NonNullable<ElectricalHit['at']> => ({
  x: Math.round((x + width / 2) * 1e6),
  y: Math.round((y + height / 2) * 1e6),
});
const atCell = (cell: RingCell | undefined): Pick<ElectricalHit, 'at'> =>
  cell === undefined ? {} : { at: middle(cell.cell) };

const volts = (value: number): string =>
  value < 1 ? `${Number((value * 1e3).toPrecision(3))} mV` : `${Number(value.toPrecision(3))} V`;
const amount = (value: number): string => String(Number(value.toPrecision(3)));
/** A cell of an arc, as a place. */
const placed = (arc: Arc, at: number): string => {
  const name = cellName(arc, at);
  return name.startsWith('beside ') ? name : `at ${name}`;
};
const cells = (count: number): string => `${count} supply cell${count === 1 ? '' : 's'}`;

/** All of them; where nothing electrical is asked for, only core strips that a placement may hold all the same. */
export function electricalHits(a: Assessment | undefined, bare?: Placement): readonly RuleHits[] {
  const looks: Readonly<Record<string, (a: Assessment) => readonly ElectricalHit[]>> = {
    [ELECTRICAL.count.name]: countHits,
    [ELECTRICAL.noise.name]: noiseHits,
    [ELECTRICAL.drop.name]: dropHits,
    [ELECTRICAL.density.name]: densityHits,
    [ELECTRICAL.supply.name]: supplyHits,
    [ELECTRICAL.stem.name]: stemHits,
    [ELECTRICAL.path.name]: pathHits,
    [ELECTRICAL.discharge.name]: dischargeHits,
    [ELECTRICAL.strip.name]: stripHits,
  };
  return electricalRules.map((rule) => ({
    rule,
    hits:
      a !== undefined
        ? (looks[rule.name]?.(a) ?? [])
        : rule === ELECTRICAL.strip && bare?.coreStrips !== undefined
          ? stripShapeHits(bare, ringCells(bare))
          : [],
  }));
}

function countHits({ supplies }: Assessment): readonly ElectricalHit[] {
  return supplies.flatMap(({ group, have, needed, decides }): ElectricalHit[] => {
    if (!isAssessed(needed) || needed.value <= have) return [];
    const why = decides === null ? '' : `, for ${DEMAND_WORDS[decides]}`;
    return [
      {
        message: `net ${group.name} has ${cells(have)} and needs ${needed.value}${why}`,
        items: [group.net],
      },
    ];
  });
}

function noiseHits({ supplies }: Assessment): readonly ElectricalHit[] {
  return supplies.flatMap(({ group, noise, budget }): ElectricalHit[] => {
    if (!isAssessed(noise) || !isAssessed(budget) || within(noise.value, budget.value)) return [];
    const message = `outputs that switch together make ${volts(noise.value)} on ${group.name}, ${volts(noise.value - budget.value)} above its budget of ${volts(budget.value)}`;
    return [{ message, items: [group.net] }];
  });
}

function dropHits(a: Assessment): readonly ElectricalHit[] {
  return a.arcs.flatMap((loaded, i): ElectricalHit[] => {
    const solved = a.rails[i];
    const budget = a.rules.drop[loaded.arc.net];
    if (solved === undefined || 'missing' in solved || budget === undefined) return [];
    const { at, drop } = solved.worst;
    if (within(drop, budget)) return [];
    const cell = loaded.arc.cells[at];
    const more = oneMore(loaded, solved);
    const best = cellName(loaded.arc, more.at);
    return [
      {
        message: `${arcName(loaded.arc)} drops ${volts(drop)} ${placed(loaded.arc, at)}, ${volts(drop - budget)} above its budget of ${volts(budget)}; one more supply ${best.startsWith('beside') ? best : `at ${best}`} would leave ${volts(more.drop)}`,
        items: [loaded.arc.net, nearestCell(loaded.arc, at)],
        ...atCell(cell),
      },
    ];
  });
}

function densityHits(a: Assessment): readonly ElectricalHit[] {
  return a.arcs.flatMap((loaded, i): ElectricalHit[] => {
    const solved = a.rails[i];
    if (solved === undefined || 'missing' in solved) return [];
    const load = mostLoaded(loaded, solved, a.rules.celsius, a.layers);
    if ('missing' in load || ratio(load.use, 1) <= 1) return [];
    const cell = loaded.arc.cells[load.at];
    const { layer, limit, capacity } = load.tightest;
    return [
      {
        message: `${arcName(loaded.arc)} carries ${amount(load.current)} mA ${placed(loaded.arc, load.at)}, where ${layer} at ${amount(limit.perMicrometre)} mA/um lets it carry ${amount(capacity)} mA`,
        items: [loaded.arc.net, nearestCell(loaded.arc, load.at)],
        ...atCell(cell),
      },
    ];
  });
}

function supplyHits(a: Assessment): readonly ElectricalHit[] {
  const { bonding } = a;
  return [...a.given].flatMap(([name, { feed, current }]): ElectricalHit[] => {
    const { rating } = feed.cell.footprint;
    const wires = bonding === undefined ? [] : feed.pads.flatMap((pad) => bonding.of(pad));
    const byWire = bonding === undefined ? undefined : wires.length * currentOfWire(bonding, wires).current;
    const over = (most: number | undefined, what: string): ElectricalHit[] =>
      most === undefined || most === 0 || within(current, most)
        ? []
        : [
            {
              message: `supply cell ${name} gives ${amount(current)} mA, and ${what} ${amount(most)} mA`,
              items: [name],
              ...atCell(feed.cell),
            },
          ];
    return [...over(rating, 'is rated for'), ...over(byWire, 'its wires may carry')];
  });
}

function stemHits(a: Assessment): readonly ElectricalHit[] {
  return stemLoads(a).flatMap((load): ElectricalHit[] => {
    if ('missing' in load || within(load.density, load.limit.perMicrometre)) return [];
    return [
      {
        message: `the stem of ${load.cell} carries ${amount(load.density)} mA/um on ${load.layer}, which may carry ${amount(load.limit.perMicrometre)}`,
        items: [load.cell],
        ...atCell(a.ring.find(({ cell }) => cell.name === load.cell)),
      },
    ];
  });
}

/** Pairs without a path, gathered by what they belong to: a rail by its net, signals by their section. */
function pathHits({ discharge }: Assessment): readonly ElectricalHit[] {
  const gathered = new Map<string, { from: PadEnds; to: PadEnds; count: number }>();
  const kindOf = ({ pad, cell, kind }: PadEnds): string =>
    kind === 'signal' ? `signals of ${cell.cell.section ?? 'no section'}` : pad.net;
  for (const { from, to } of discharge.none) {
    const key = `${kindOf(from)} to ${kindOf(to)}`;
    const known = gathered.get(key);
    if (known === undefined) gathered.set(key, { from, to, count: 1 });
    else known.count++;
  }
  return [...gathered].map(([key, { from, to, count }]) => {
    const names = [padName(from.pad, from.cell), padName(to.pad, to.cell)];
    const more = count === 1 ? '' : `, and so for ${count - 1} more of ${key}`;
    return {
      message: `a discharge from ${names.join(' to ')} finds no path through diodes, rails and clamps${more}`,
      items: names,
      at: { x: Math.round(from.pad.x * 1e6), y: Math.round(from.pad.y * 1e6) },
    };
  });
}

function dischargeHits({ discharge, rules }: Assessment): readonly ElectricalHit[] {
  if ('missing' in discharge || rules.discharge === null) return [];
  const { rail, path } = rules.discharge;
  const over = (
    one: DischargePath,
    value: number,
    budget: number | null,
    what: string,
  ): readonly ElectricalHit[] => {
    if (budget === null || within(value, budget)) return [];
    const { from, to } = one;
    const names = [padName(from.pad, from.cell), padName(to.pad, to.cell)];
    return [
      {
        message: `a discharge from ${names.join(' to ')} drops ${volts(value)} ${what}, ${volts(value - budget)} above the budget of ${volts(budget)}`,
        items: names,
        at: { x: Math.round(from.pad.x * 1e6), y: Math.round(from.pad.y * 1e6) },
      },
    ];
  };
  return discharge.worst.flatMap((one) => [
    ...over(one, one.rail, rail, 'along rails and stems'),
    ...(one.unknown.length > 0 ? [] : over(one, one.total, path, 'in all')),
  ]);
}

function stripHits({ strips, placement, rules, ring }: Assessment): readonly ElectricalHit[] {
  const shapes = stripShapeHits(placement, ring);
  if (strips === undefined) return shapes;
  const { clearance } = placement.rules.core;
  const figures = strips.figures.flatMap(
    ({ net, most, limit, depth, drop, ...worked }): readonly ElectricalHit[] => {
      const hits: ElectricalHit[] = [];
      // As it is drawn, whatever it should be.
      const width = placement.coreStrips?.find((strip) => strip.net === net)?.width ?? worked.width;
      if (!within(depth, clearance))
        hits.push({
          message: `the core strip of ${net} ends ${amount(depth)} um from the ring, and the core's clearance is ${clearance} um`,
          items: [net],
        });
      if (!('missing' in limit) && !within(most / width, limit.perMicrometre))
        hits.push({
          message: `the core strip of ${net} carries ${amount(most / width)} mA/um and may carry ${amount(limit.perMicrometre)}`,
          items: [net],
        });
      const budget = rules.drop[net];
      if (typeof drop === 'number' && budget !== undefined && !within(drop, budget))
        hits.push({
          message: `the core strip of ${net} drops ${volts(drop)}, ${volts(drop - budget)} above its budget of ${volts(budget)}`,
          items: [net],
        });
      return hits;
    },
  );
  return [...shapes, ...figures];
}
