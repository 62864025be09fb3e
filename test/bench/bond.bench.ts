/**
 * Checking wires: how the time grows from 5 000 to 20 000 of them (4 is linear), and how it compares to writing the
 * same wires with `JSON.stringify`. Fans as wide as twice the die's side, in two rows.
 */
import { wireHits } from '../../src/bond/rules.ts';
import { wiresOf } from '../../src/bond/wires.ts';
import type { Placement } from '../../src/format/placement.ts';
import { SIDES } from '../../src/geometry/side.ts';
import { PLACED, pad, placedBy } from '../bond/sample.ts';
import { ratioOf, report } from './measure.ts';

function fanOf(wires: number): Placement {
  const each = wires / 4;
  const pitch = 40;
  const half = (each * pitch) / 2 + 400;
  const size = 2 * half;
  const pads = SIDES.flatMap((side, k) =>
    Array.from({ length: each }, (_, i) => {
      const s = (i - (each - 1) / 2) * pitch;
      const t = i % 2 === 0 ? 95 : 180;
      const [x, y] =
        side === 'bottom'
          ? [half + s, t]
          : side === 'right'
            ? [size - t, half + s]
            : side === 'top'
              ? [half - s, size - t]
              : [t, half - s];
      return pad(k * each + i + 1, `P${k * each + i + 1}`, side, x, y, {
        row: i % 2 === 0 ? 'outer' : 'inner',
      });
    }),
  );
  const fingers = SIDES.flatMap((side, k) =>
    Array.from({ length: each }, (_, i) => {
      const along = (i - (each - 1) / 2) * pitch * 1.05;
      const out = half + 2000;
      const [x, y] =
        side === 'bottom'
          ? [along, -out]
          : side === 'right'
            ? [out, along]
            : side === 'top'
              ? [-along, out]
              : [-out, -along];
      return { name: String(k * each + i + 1), x, y, width: 40, angle: 0, tier: 1, side };
    }),
  );
  const bonds = pads.map(({ number }) => ({ bondPad: number, finger: String(number) }));
  const wires1 = {
    ...PLACED.wires,
    diameter: 20,
    foot: 30,
    loops: [
      { row: null, tier: null, height: 120 },
      { row: 'inner', tier: null, height: 200 },
    ] as const,
  };
  const limits = { ...PLACED.limits, wireSpacing: 15, height: 60 };
  const placement = placedBy(pads, [], [], { fingers, bonds, wires: wires1, limits });
  return { ...placement, die: { width: size, height: size } };
}

const [few, many] = [fanOf(5000), fanOf(20_000)];
report(
  ratioOf(
    'wires of a package checked: 20 000 / 5 000',
    () => wireHits(many),
    () => wireHits(few),
    5,
  ),
);
const written = wiresOf(many);
report(
  ratioOf(
    '20 000 wires checked / JSON.stringify of them',
    () => wireHits(many),
    () => JSON.stringify(written),
    5,
  ),
);
