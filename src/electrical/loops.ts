/** The loop of a supply's wires with those of its nearest ground: 2 (L - M) for equal wires side by side. */
import { wireLoop } from '../figures/coupled.ts';
import { type Figure, figure, input, notAssessed } from '../figures/figure.ts';
import type { BondPad } from '../format/placement.ts';
import type { Bonding } from './bonding.ts';
import { type Group, supplyCells } from './groups.ts';
import { SOURCES } from './sources.ts';

/** The worst loop of a supply group with the grounds of its lanes' pairs, and the pads that form it. */
export function worstLoop(supply: Group, grounds: readonly Group[], bonding: Bonding | undefined): Figure {
  if (bonding === undefined) return notAssessed('the bond wires: `wires` or `package`');
  const nearest = nearestOf(grounds.flatMap((ground) => supplyCells(ground).flatMap(({ pads }) => pads)));
  let worst: { pad: BondPad; ground: BondPad; loop: number; apart: number } | undefined;
  for (const { pads } of supplyCells(supply))
    for (const pad of pads) {
      const ground = nearest(pad);
      const [go] = bonding.of(pad);
      const [back] = ground === undefined ? [] : bonding.of(ground);
      if (ground === undefined || go === undefined || back === undefined) continue;
      const loop = wireLoop(go, back);
      // A wire is no ground of itself, and two on one place are none of each other: no loop could be worked out.
      if (!Number.isFinite(loop)) continue;
      if (worst === undefined || loop > worst.loop)
        worst = { pad, ground, loop, apart: Math.hypot(pad.x - ground.x, pad.y - ground.y) };
    }
  if (worst === undefined) return notAssessed(`wires of ${supply.name} and of its ground`);
  return figure(
    worst.loop,
    'nH',
    `L1 + L2 - 2 M of ${worst.pad.cell} and ${worst.ground.cell}, its nearest ground`,
    [input('apart', worst.apart, 'um')],
    SOURCES.coupled,
  );
}

/** Squares wide enough that a ground's neighbours are mostly in the next one. */
const SQUARE = 500;
/** So many squares outward; beyond them all pads are gone through. */
const NEAR = 16;

/** A finder of the nearest of many pads: by squares of the plane, outward from the one asked for until nothing nearer can come. */
function nearestOf(pads: readonly BondPad[]): (pad: BondPad) => BondPad | undefined {
  const squares = new Map<string, BondPad[]>();
  const at = (length: number): number => Math.floor(length / SQUARE);
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const pad of pads) {
    const [i, j] = [at(pad.x), at(pad.y)];
    low = Math.min(low, i, j);
    high = Math.max(high, i, j);
    const list = squares.get(`${i} ${j}`);
    if (list === undefined) squares.set(`${i} ${j}`, [pad]);
    else list.push(pad);
  }
  return (pad) => {
    const [i, j] = [at(pad.x), at(pad.y)];
    let best: BondPad | undefined;
    let least = Number.POSITIVE_INFINITY;
    const nearer = (other: BondPad): void => {
      const apart = Math.hypot(pad.x - other.x, pad.y - other.y);
      if (apart < least) [best, least] = [other, apart];
    };
    const look = (a: number, b: number): void => {
      for (const other of squares.get(`${a} ${b}`) ?? []) nearer(other);
    };
    const most = Math.min(NEAR, Math.max(high, i, j) - Math.min(low, i, j));
    for (let ring = 0; ring <= most && (ring - 1) * SQUARE < least; ring++)
      for (let k = -ring; k <= ring; k++) {
        look(i + k, j - ring);
        if (ring === 0) continue;
        look(i + k, j + ring);
        if (Math.abs(k) === ring) continue;
        look(i - ring, j + k);
        look(i + ring, j + k);
      }
    // None within several millimetres: then squares, nearly all of them empty, are no help.
    if (most === NEAR && NEAR * SQUARE < least) for (const other of pads) nearer(other);
    return best;
  };
}
