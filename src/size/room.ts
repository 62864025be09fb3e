/** How many more bond pads, or supply pairs, a side holds on a die, and how many it would hold alone. */
import { coreWays, leastForCore } from '../fit/core.ts';
import type { Die } from '../fit/die.ts';
import { fills, nextLength } from '../fit/pack.ts';
import { type SideRows, sideRows } from '../fit/rows.ts';
import { SIDES, type Side, sideLength } from '../geometry/side.ts';
import { ZERO } from '../geometry/units.ts';
import type { Footprint } from '../library/footprint.ts';
import type { PlannedCell } from '../plan/plan.ts';
import type { Entry, Ring } from '../spec/ring.ts';
import { entriesOf, hasPad } from './alternatives.ts';
import { type Measured, packSide, withRows } from './measure.ts';

/** What a side's room is counted in; null where the ring has no such cell. */
export interface Further {
  readonly usual: readonly PlannedCell[] | null;
  readonly pair: SupplyPair | null;
}

export const furtherOf = (ring: Ring): Further => ({ usual: usualCell(ring), pair: supplyPair(ring) });

/** A guard against a side that holds any number. */
const MOST = 1 << 20;

/** A cell that could be added: as an entry of the ring has it, free to stand anywhere. */
const added = (entry: Entry): PlannedCell => ({
  name: '',
  footprint: entry.footprint,
  entry: { ...entry, at: null, gap: ZERO, row: null },
  section: entry.section,
});

/** The ring's commonest cell with a bond pad, signals before supplies; null where there is none. */
function usualCell(ring: Ring): readonly PlannedCell[] | null {
  const padded = entriesOf(ring).filter(hasPad);
  const signals = padded.filter(
    ({ footprint }) => footprint.role === 'signal' || footprint.role === 'analog',
  );
  const entry = commonest(signals.length > 0 ? signals : padded);
  return entry === null ? null : [added(entry)];
}

function commonest(entries: readonly Entry[]): Entry | null {
  const counts = new Map<string, { entry: Entry; count: number }>();
  for (const entry of entries) {
    const key = `${entry.footprint.name} ${entry.pad?.name ?? ''}`;
    const known = counts.get(key);
    if (known === undefined) counts.set(key, { entry, count: 1 });
    else known.count++;
  }
  let best: { entry: Entry; count: number } | null = null;
  for (const one of counts.values()) if (best === null || one.count > best.count) best = one;
  return best?.entry ?? null;
}

/** A supply cell and its ground, the first pair of a section that has both; null where no section has. */
export interface SupplyPair {
  readonly nets: readonly [supply: string, ground: string];
  readonly cells: readonly [PlannedCell, PlannedCell];
}

function supplyPair(ring: Ring): SupplyPair | null {
  const entries = entriesOf(ring).filter(hasPad);
  const feeding = (section: string, lane: string): Entry | null =>
    commonest(
      entries.filter(
        (entry) => entry.section === section && feeds(entry.footprint, lane) && entry.pins.length === 1,
      ),
    );
  for (const section of ring.sections)
    for (const pair of section.pairs) {
      const [supply, ground] = [feeding(section.name, pair.supply), feeding(section.name, pair.ground)];
      if (supply !== null && ground !== null)
        return {
          nets: [
            section.lanes.get(pair.supply) ?? pair.supply,
            section.lanes.get(pair.ground) ?? pair.ground,
          ],
          cells: [added(supply), added(ground)],
        };
    }
  return null;
}

const feeds = (footprint: Footprint, lane: string): boolean =>
  footprint.landings.some((landing) => landing.feeds.includes(lane));

/** Whether a side with these cells, and the ring around it unless it is looked at alone, fills a die. */
function holds(
  measured: Measured,
  side: Side,
  cells: readonly PlannedCell[],
  die: Die,
  alone: boolean,
): 'yes' | 'no' | 'too long' {
  const { plan, fillers } = measured;
  const changed = { ...plan, sides: { ...plan.sides, [side]: cells } };
  const own = sideRows(changed, side);
  if (!own.ok) return 'too long';
  const rows = withRows(measured.rows, own.value);
  const packing = packSide(changed, rows, side, fillers);
  const length = sideLength(side, die);
  if (packing === null || nextLength(packing, 0) > length) return 'too long';
  if (!fills(packing, length)) return 'no';
  const fit = alone || sameRows(measured.rows[side], own.value) || othersHold(measured, side, own.value, die);
  return fit ? 'yes' : 'too long';
}

const sameRows = (a: SideRows, b: SideRows): boolean => a.t0 === b.t0 && a.inner === b.inner;

/** Deeper rows of one side push its neighbours' corner cells and the core. */
function othersHold(measured: Measured, side: Side, own: SideRows, die: Die): boolean {
  const { plan, fillers } = measured;
  const rows = withRows(measured.rows, own);
  const { width, height } = coreWays(plan.ring, rows);
  const core = [width, height].map((insets) => leastForCore(plan.ring, insets));
  if (!core.some((least) => least.width <= die.width && least.height <= die.height)) return false;
  return SIDES.filter((other) => other !== side).every((other) => {
    const packing = packSide(plan, rows, other, fillers);
    return packing !== null && fills(packing, sideLength(other, die));
  });
}

/**
 * How often some cells can be put after those of a side, or on the side alone, the die as it is. The search doubles and halves on what is too
 * long, and then steps down to a number of cells whose gaps can be filled.
 */
export function roomFor(
  measured: Measured,
  side: Side,
  die: Die,
  unit: readonly PlannedCell[],
  alone = false,
): number {
  const base = alone ? [] : measured.plan.sides[side];
  const verdicts = new Map<number, ReturnType<typeof holds>>();
  const verdict = (times: number): ReturnType<typeof holds> => {
    const known = verdicts.get(times);
    if (known !== undefined) return known;
    const cells = [...base, ...Array.from({ length: times }, () => unit).flat()];
    const found = holds(measured, side, cells, die, alone);
    verdicts.set(times, found);
    return found;
  };
  if (verdict(1) === 'too long') return 0;
  let [fit, long] = [1, 2];
  while (long < MOST && verdict(long) !== 'too long') [fit, long] = [long, long * 2];
  while (long - fit > 1) {
    const middle = Math.floor((fit + long) / 2);
    if (verdict(middle) === 'too long') long = middle;
    else fit = middle;
  }
  while (fit > 0 && verdict(fit) !== 'yes') fit--;
  return fit;
}
