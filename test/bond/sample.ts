/** Packages and placements built in code, for tests that need no file. */

import type { StrungWire } from '../../src/bond/string.ts';
import type { BondPad, Placement } from '../../src/format/placement.ts';
import type { Side } from '../../src/geometry/side.ts';
import { lay } from '../../src/run.ts';
import type { Finger, Package } from '../../src/spec/package.ts';
import type { Entry, Ring, Style } from '../../src/spec/ring.ts';
import { entry, library, ring, um } from '../helpers/ring.ts';

const PLACE = { file: 'ring.yaml', line: 9, column: 3 };

/** A finger of a side, `along` counter-clockwise from its middle. */
export function finger(
  name: string,
  side: Side,
  along: number,
  distance: number,
  more: Partial<Finger> = {},
): Finger {
  const [x, y, angle] =
    side === 'bottom'
      ? [along, -distance, -90]
      : side === 'right'
        ? [distance, along, 0]
        : side === 'top'
          ? [-along, distance, 90]
          : [-distance, -along, 180];
  return { name, x: um(x), y: um(y), width: um(100), angle, tier: 1, side, place: PLACE, ...more };
}

/** So many fingers a side, none wider than their pitch, numbered counter-clockwise from the left side's upper end. */
export const lead = (each: number, pitch: number, distance: number): readonly Finger[] =>
  (['left', 'bottom', 'right', 'top'] as const).flatMap((side, k) =>
    Array.from({ length: each }, (_, i) =>
      finger(String(k * each + i + 1), side, (i - (each - 1) / 2) * pitch, distance, {
        width: um(Math.min(100, pitch)),
      }),
    ),
  );

export function packageOf(fingers: readonly Finger[], more: Partial<Package> = {}): Package {
  return {
    name: 'test',
    cavity: null,
    paddle: null,
    die: { x: um(0), y: um(0), rotation: 0 },
    fingers,
    bonds: { by: 'sides', first: 0, free: [], to: new Map(), unbonded: [], exchange: [] },
    wires: {
      metal: 'gold',
      diameter: um(25),
      foot: um(50),
      pitch: um(60),
      loops: [{ row: null, tier: null, height: um(150) }],
      drops: [],
      lead: null,
      currents: new Map(),
    },
    limits: {
      span: { least: null, most: null },
      length: null,
      angle: null,
      wireSpacing: um(0),
      padSpacing: um(0),
      height: um(25),
    },
    place: PLACE,
    ...more,
  };
}

const CELLS = library();
const IO = CELLS.find((cell) => cell.name === 'io');

/** So many signal pins on each side, in counter-clockwise order, `P1` first. */
export function pins(counts: Readonly<Record<Side, number>>): Record<Side, readonly Entry[]> {
  let n = 0;
  const of = (side: Side): readonly Entry[] =>
    Array.from({ length: counts[side] }, () => {
      if (IO === undefined) throw new Error('no io cell');
      return entry(IO, `P${++n}`);
    });
  return { left: of('left'), bottom: of('bottom'), right: of('right'), top: of('top') };
}

export const each = (n: number) => ({ left: n, bottom: n, right: n, top: n });

export function bondedRing(
  bonded: Package,
  entries: Partial<Record<Side, readonly Entry[]>>,
  style: Style = 'inline',
  more: Partial<Ring> = {},
): Ring {
  return ring(CELLS, style, entries, { package: bonded, ...more });
}

/** The placement of a ring that can be laid. */
export function laid(of: Ring): Placement {
  const outcome = lay(of);
  if (!outcome.ok) throw new Error(outcome.problems.map((p) => p.message).join('\n'));
  return outcome.value;
}

/** A wire from place to place that is nobody else's neighbour by pad or finger. */
export function bareWire(
  index: number,
  from: readonly [number, number],
  to: readonly [number, number],
  more: Partial<StrungWire> = {},
): StrungWire {
  const span = Math.hypot(to[0] - from[0], to[1] - from[1]);
  return {
    number: index + 1,
    bondPad: index + 1,
    pin: `P${index + 1}`,
    net: `P${index + 1}`,
    side: 'bottom',
    row: 'single',
    finger: `${index + 1}`,
    tier: 1,
    from: { x: from[0], y: from[1] },
    to: { x: to[0], y: to[1] },
    loop: 150,
    drop: 0,
    span,
    length: span,
    along: 0,
    angle: 0,
    mostCurrent: 1,
    current: null,
    ...more,
  };
}

/** A placement with other bond pads and other limits. */
export const withPads = (placement: Placement, bondPads: readonly BondPad[]): Placement => ({
  ...placement,
  bondPads,
});

/** A pad of 60 x 60 with an opening of 50 x 50. */
export function pad(
  number: number,
  pin: string,
  side: Side,
  x: number,
  y: number,
  more: Partial<BondPad> = {},
): BondPad {
  return {
    number,
    pin,
    net: pin,
    cell: pin,
    landing: 'pad',
    side,
    row: 'single',
    x,
    y,
    width: 60,
    height: 60,
    opening: { width: 50, height: 50 },
    ...more,
  };
}

type PlacedPackage = NonNullable<Placement['package']>;

const BASE = laid(bondedRing(packageOf(lead(2, 300, 2000)), pins(each(1))));

/** A placement that is a die of 2000 x 2000 with pads and a package, and nothing else of interest. */
export function placedBy(
  pads: readonly BondPad[],
  fingers: readonly Finger[],
  bonds: readonly (readonly [bondPad: number, finger: string | null])[],
  more: Partial<PlacedPackage> = {},
  shrink = 1,
): Placement {
  if (BASE.package === undefined) throw new Error('no package');
  return {
    ...BASE,
    rules: { ...BASE.rules, shrink },
    die: { width: 2000, height: 2000 },
    bondPads: pads,
    package: {
      ...BASE.package,
      fingers: fingers.map(({ name, x, y, width, angle, tier, side }) => ({
        name,
        x: x / 1e6,
        y: y / 1e6,
        width: width / 1e6,
        angle,
        tier,
        side,
      })),
      bonds: bonds.map(([bondPad, end]) => ({ bondPad, finger: end })),
      ...more,
    },
  };
}

/** The placed package of the sample, to change one of its parts. */
export const PLACED: PlacedPackage = placedBy([], [], []).package as PlacedPackage;
