/**
 * Setting the supply cells that an assessment found missing: pairs of a supply and its ground side by side, spread
 * along each supply arc so that the worst stretch between two grounds carries as little switching load as possible.
 * What the user placed stands and counts first. The order of the user's own cells never changes.
 */

import { currentSlope } from '../figures/noise.ts';
import { spread } from '../figures/spread.ts';
import { SIDES, type Side } from '../geometry/side.ts';
import { ZERO } from '../geometry/units.ts';
import type { Footprint } from '../library/footprint.ts';
import { standIn } from '../library/stand-in.ts';
import { listed } from '../problems/listed.ts';
import type { Electrical } from '../spec/electrical.ts';
import type { Entry, Ring, SideSpec } from '../spec/ring.ts';
import type { Plan } from './plan.ts';

/** An arc that may need more supply cells. */
export interface ArcNeed {
  readonly lane: string;
  readonly kind: 'supply' | 'ground';
  readonly closed: boolean;
  /** Names of its cells in ring order. */
  readonly cells: readonly string[];
  readonly more: number;
}

/** A cell of the user's, where it is listed. */
interface Listed {
  readonly entry: Entry;
  readonly side: Side;
}

/** The ring with the missing supplies set, and the pins that were; fewer where no place is left. */
export interface Supplied {
  readonly ring: Ring;
  readonly set: readonly { readonly pin: string; readonly side: Side; readonly before: Entry }[];
}

/** Supply cells that a note names; the placement has them all. */
const NAMED = 12;

/** What was set, as a note says it. */
export function namesOfSet(
  set: readonly {
    readonly pin: string;
    readonly side: Side;
    readonly before: { readonly pins: readonly string[] };
  }[],
): string {
  return listed(
    set.map(({ pin, side, before }) => {
      const [next] = before.pins;
      return `${pin} on the ${side} side${next === undefined ? '' : ` before ${next}`}`;
    }),
    NAMED,
  );
}

/** Sets what the arcs of a planned ring need, on the sides that are not barred. */
export function withSupplies(
  { ring, sides }: Plan,
  needs: readonly ArcNeed[],
  barred: readonly Side[] = [],
): Supplied {
  const { electrical } = ring;
  if (electrical === undefined) return { ring, set: [] };
  const listed = new Map<string, Listed>();
  for (const side of SIDES)
    for (const { name, entry } of sides[side]) if (entry !== null) listed.set(name, { entry, side });
  const setting = settingOf(ring, electrical);
  const grounds = new Map(needs.filter((need) => need.kind === 'ground').map((need) => [need, need.more]));
  const supplies = needs.filter((need) => need.kind === 'supply');
  for (const need of supplies) {
    const row = rowOf(ring, electrical, need, listed);
    if (row === undefined) continue;
    const shared = [...grounds].filter(([ground]) => ground.lane === row.ground && meets(ground, need));
    // Ground cells beyond what the pairs bring come as pairs as well, shared among the ground's supply arcs.
    const beyond = shared.map(([ground, more]) => {
      const others = supplies.filter((other) => meets(ground, other));
      const pairs = others.reduce((sum, other) => sum + other.more, 0);
      return Math.max(0, Math.ceil((more - pairs) / Math.max(1, others.length)));
    });
    const count = need.more + Math.max(0, ...beyond);
    const open = row.allowed.filter((place) => !barred.includes(row.items[place]?.side ?? 'left'));
    for (const cut of spread({ ...row, allowed: open }, count).cuts) setting.pair(row, cut);
  }
  return setting.done();
}

const meets = (a: ArcNeed, b: ArcNeed): boolean => {
  const own = new Set(a.cells);
  return b.cells.some((cell) => own.has(cell));
};

interface Row {
  readonly supply: string;
  readonly ground: string;
  readonly items: readonly Listed[];
  readonly loads: readonly number[];
  readonly closed: boolean;
  readonly allowed: readonly number[];
  readonly fixed: readonly number[];
}

/** An arc's cells as a row of switching loads; undefined where no pair or no cell to set belongs to its lane. */
function rowOf(
  ring: Ring,
  electrical: Electrical,
  need: ArcNeed,
  listed: ReadonlyMap<string, Listed>,
): Row | undefined {
  const items = need.cells.flatMap((name) => listed.get(name) ?? []);
  const groundOf = (section: string): string | undefined =>
    ring.sections.find((s) => s.name === section)?.pairs.find((pair) => pair.supply === need.lane)?.ground;
  const ground = items.map(({ entry }) => groundOf(entry.section)).find((lane) => lane !== undefined);
  if (ground === undefined) return undefined;
  const cells = [electrical.supplies.cells.get(need.lane), electrical.supplies.cells.get(ground)];
  if (cells.some((cell) => cell === undefined)) return undefined;
  const feeds = (entry: Entry, lane: string): boolean =>
    entry.footprint.landings.some(
      (landing, k) => landing.feeds.includes(lane) && entry.pins[k] !== undefined,
    );
  const bound = boundPins(ring);
  const isSupply = ({ entry }: Listed): boolean => entry.footprint.role === 'supply';
  const allowed = items.flatMap((item, i) => {
    const before = items[i - 1] ?? (need.closed ? items.at(-1) : undefined);
    if (before === undefined || before === item) return need.closed ? [i] : [];
    const open =
      before.entry.section === item.entry.section &&
      groundOf(item.entry.section) === ground &&
      !(isSupply(before) && isSupply(item)) &&
      !(before.entry.at !== null && item.entry.at !== null) &&
      !bound(before.entry, item.entry) &&
      cells.every((cell) => cell !== undefined && hasPad(ring, cell, item.side));
    return open ? [i] : [];
  });
  const fixed = items.flatMap(({ entry }, i) => (feeds(entry, ground) ? [i] : []));
  const standing = new Set(fixed);
  return {
    supply: need.lane,
    ground,
    items,
    loads: loadsOf(electrical, items),
    closed: need.closed,
    allowed: allowed.filter((place) => !standing.has(place)),
    fixed,
  };
}

/** Whether a supply cell gets its bond pad on a side: inside it just where the style says so. */
const hasPad = (ring: Ring, cell: Footprint, side: Side): boolean =>
  (ring.sides[side].style === 'in-cell') === (standIn(ring.library, cell, side).landings[0]?.inside !== null);

/** Pins that must stand side by side keep their neighbours. */
function boundPins(ring: Ring): (a: Entry, b: Entry) => boolean {
  const groups = ring.neighbours.flatMap((rule) => (rule.kind === 'together' ? [new Set(rule.pins)] : []));
  return (a, b) =>
    groups.some((group) => a.pins.some((pin) => group.has(pin)) && b.pins.some((pin) => group.has(pin)));
}

/** What each cell switches, mA/ns; where nothing is known to switch, its signal pins. */
function loadsOf({ outputs }: Electrical, items: readonly Listed[]): readonly number[] {
  const slopes = new Map<string, (footprint: Footprint) => number>();
  for (const { pins, slope, load, swing, edge } of outputs)
    for (const pin of pins)
      slopes.set(pin, (footprint) => {
        if (slope !== null) return slope;
        if (load !== null && swing !== null && edge !== null)
          return currentSlope(edge.shape, load, swing, edge.time);
        return footprint.electrical?.drives?.slope ?? 0;
      });
  const loads = items.map(({ entry }) =>
    entry.pins.reduce((sum, pin) => sum + (slopes.get(pin)?.(entry.footprint) ?? 0), 0),
  );
  if (loads.some((load) => load > 0)) return loads;
  return items.map(
    ({ entry }) => entry.footprint.landings.filter((landing) => landing.feeds.length === 0).length,
  );
}

/** Gathers what is set before which of the user's cells. */
function settingOf(
  ring: Ring,
  electrical: Electrical,
): { readonly pair: (row: Row, place: number) => void; readonly done: () => Supplied } {
  const before = new Map<Entry, Entry[]>();
  const set: { pin: string; side: Side; before: Entry }[] = [];
  const names = pinNames(ring);
  const cellFor = (lane: string, next: Listed): Entry | undefined => {
    const named = electrical.supplies.cells.get(lane);
    const net = ring.sections.find((s) => s.name === next.entry.section)?.lanes.get(lane);
    if (named === undefined || net === undefined) return undefined;
    const footprint = standIn(ring.library, named, next.side);
    const inside = footprint.landings[0]?.inside !== null;
    return {
      pins: [names(net)],
      nets: [net],
      footprint,
      section: next.entry.section,
      at: null,
      gap: ZERO,
      row: null,
      shift: ZERO,
      mirrored: false,
      pad: inside ? null : padKind(ring, next),
      place: electrical.place,
    };
  };
  return {
    pair: (row, place) => {
      const next = row.items[place];
      if (next === undefined) return;
      const list = before.get(next.entry) ?? [];
      before.set(next.entry, list);
      for (const lane of [row.supply, row.ground]) {
        const entry = cellFor(lane, next);
        if (entry === undefined) continue;
        list.push(entry);
        set.push({ pin: entry.pins[0] ?? '', side: next.side, before: next.entry });
      }
    },
    done: () => {
      const sideOf = (side: Side): SideSpec => ({
        ...ring.sides[side],
        entries: ring.sides[side].entries.flatMap((entry) => [...(before.get(entry) ?? []), entry]),
      });
      const sides = {
        left: sideOf('left'),
        bottom: sideOf('bottom'),
        right: sideOf('right'),
        top: sideOf('top'),
      };
      return { ring: { ...ring, sides }, set };
    },
  };
}

/** The kind of bond pad that the next cell has, or else the first that any cell of its side or of the ring has. */
function padKind(ring: Ring, { entry, side }: Listed): Entry['pad'] {
  if (entry.pad !== null) return entry.pad;
  const all = [side, ...SIDES].flatMap((one) => ring.sides[one].entries);
  return all.find((other) => other.pad !== null)?.pad ?? null;
}

/** Names for new pins of a net: its first pin's name and the next free number. */
function pinNames(ring: Ring): (net: string) => string {
  const taken = new Set<string>();
  const first = new Map<string, string>();
  for (const side of SIDES)
    for (const { pins, nets } of ring.sides[side].entries)
      for (const [k, pin] of pins.entries()) {
        taken.add(pin);
        const net = nets[k];
        if (net !== undefined && !first.has(net)) first.set(net, pin);
      }
  const next = new Map<string, number>();
  return (net) => {
    const stem = first.get(net) ?? net;
    let k = next.get(stem) ?? 2;
    while (taken.has(`${stem}_${k}`)) k++;
    next.set(stem, k);
    const name = taken.has(stem) ? `${stem}_${k}` : stem;
    taken.add(name);
    return name;
  };
}
