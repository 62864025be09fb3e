/**
 * Shows: the least cell pitch and the least die of each style for the case worked by hand, 40 equal cells a side,
 * packed. Source: arithmetic of ring-model section 3, spelled out beside each figure; no outside source.
 */
import { describe, expect, it } from 'vitest';
import type { Side } from '../../src/geometry/side.ts';
import { lay } from '../../src/run.ts';
import type { Style } from '../../src/spec/ring.ts';
import { entry, footprint, library, ring, um } from '../helpers/ring.ts';

const SIDES = ['left', 'bottom', 'right', 'top'] as const;

function worked(style: Style, onCorner = false) {
  const cells = library().map((f) => (f.name === 'corner' ? { ...f, padOnTop: onCorner } : f));
  const io = cells.find((f) => f.name === 'io') ?? footprint('io', 'signal', 35);
  const sides = Object.fromEntries(
    SIDES.map((side) => [side, Array.from({ length: 40 }, (_, i) => entry(io, `${side}_${i}`))]),
  ) as Record<Side, ReturnType<typeof entry>[]>;
  const laid = lay(ring(cells, style, sides));
  if (!laid.ok) throw new Error(JSON.stringify(laid.problems));
  const { die, bondPads } = laid.value;
  const bottom = bondPads.filter((pad) => pad.side === 'bottom').map((pad) => pad.x);
  return { die, pitch: (bottom[1] ?? 0) - (bottom[0] ?? 0), count: bondPads.length };
}

describe('the case worked by hand: w 35, h 180, b 60 x 70, m 10, P 70, l 12, q 4, row gap 12, gap 3, edge 60', () => {
  it('inline: pitch max(35, 70, 60 + 10) = 70; die 2 (60 + 70 + 3 + 180) + 39 x 70 + 35 = 3391', () => {
    expect(worked('inline')).toEqual({ die: { width: 3391, height: 3391 }, pitch: 70, count: 160 });
  });

  it('staggered: pitch max(35, 35, 35, 30 + 6 + 4) = 40; die 2 (60 + 70 + 12 + 70 + 3 + 180) + 39 x 40 + 35 = 2385', () => {
    expect(worked('staggered')).toEqual({ die: { width: 2385, height: 2385 }, pitch: 40, count: 160 });
  });

  it('over circuit, pads may overhang the corner cells: pitch 35; die 2 (60 + 180) + 39 x 35 + 35 = 1880', () => {
    expect(worked('over-circuit', true)).toEqual({
      die: { width: 1880, height: 1880 },
      pitch: 35,
      count: 160,
    });
  });

  it('over circuit, they may not: the first and last pads overhang by 12.5 on either side, die 1905', () => {
    expect(worked('over-circuit')).toEqual({ die: { width: 1905, height: 1905 }, pitch: 35, count: 160 });
  });

  it('a core of 3000 um decides where it is larger than the pads leave', () => {
    const io = footprint('io', 'signal', 35);
    const cells = [...library().filter((f) => f.name !== 'io'), io];
    const laid = lay(
      ring(
        cells,
        'inline',
        { left: [entry(io, 'a')] },
        {
          core: { width: um(3000), height: um(500), clearance: um(10) },
        },
      ),
    );
    if (!laid.ok) throw new Error(JSON.stringify(laid.problems));
    // Only the left side has bond pads: 60 + 70 + 3 + 180 there, 60 + 180 on the other sides, 10 of clearance.
    expect(laid.value.die).toEqual({ width: 313 + 240 + 20 + 3000, height: 240 + 240 + 20 + 500 });
    expect(laid.value.summary.limits).toEqual({ width: 'core', height: 'core' });
    expect(laid.value.core).toEqual({ x: 323, y: 250, width: 3000, height: 500 });
  });
});
