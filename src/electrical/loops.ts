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
  const across = grounds.flatMap((ground) => supplyCells(ground).flatMap(({ pads }) => pads));
  let worst: { pad: BondPad; ground: BondPad; loop: number; apart: number } | undefined;
  for (const { pads } of supplyCells(supply))
    for (const pad of pads) {
      const ground = nearest(pad, across);
      const [go] = bonding.of(pad);
      const [back] = ground === undefined ? [] : bonding.of(ground);
      if (ground === undefined || go === undefined || back === undefined) continue;
      const loop = wireLoop(go, back);
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

function nearest(pad: BondPad, others: readonly BondPad[]): BondPad | undefined {
  let best: BondPad | undefined;
  let least = Number.POSITIVE_INFINITY;
  for (const other of others) {
    const apart = Math.hypot(pad.x - other.x, pad.y - other.y);
    if (apart < least) [best, least] = [other, apart];
  }
  return best;
}
