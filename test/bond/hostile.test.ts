/**
 * Shows that a placement which a script has edited into nonsense stalls and crashes nothing: wires in heaps, to nowhere,
 * of no length, to and from things that are not there. No source; a clock guards against hanging.
 */
import { expect, it } from 'vitest';
import { wireHits } from '../../src/bond/rules.ts';
import { suggestOrder } from '../../src/bond/suggest.ts';
import { wiresOf } from '../../src/bond/wires.ts';
import type { Placement } from '../../src/format/placement.ts';
import { bondSheets } from '../../src/write/bond-svg.ts';
import { wiresCsv } from '../../src/write/wires-csv.ts';
import { finger, PLACED, pad, placedBy } from './sample.ts';

const told = (placement: Placement): readonly string[] =>
  wireHits(placement).flatMap(({ rule, hits }) => (hits.length > 0 ? [rule.name] : []));

function heap(count: number, spread: number): Placement {
  const pads = Array.from({ length: count }, (_, i) =>
    pad(i + 1, `P${i + 1}`, 'bottom', 1000 + i * spread, 95),
  );
  const fingers = pads.map(({ number }) => ({
    name: String(number),
    x: number * spread,
    y: -3000,
    width: 100,
    angle: -90,
    tier: 1,
    side: 'bottom' as const,
  }));
  const bonds = pads.map(({ number }) => ({ bondPad: number, finger: String(number) }));
  return placedBy(pads, [], [], { fingers, bonds });
}

it.each([
  ['on one spot', 0],
  ['a picometre apart', 1e-6],
])(
  '20 000 wires %s are said not to have been compared one by one',
  (_, spread) => {
    expect(told(heap(20_000, spread))).toContain('wires-not-compared');
  },
  60_000,
);

it('wires to and from places that cannot be are not strung', () => {
  for (const far of [1e300, -1e300, 1e10]) {
    const out = placedBy([pad(1, 'A', 'bottom', far, 95)], [finger('1', 'bottom', 0, 3000)], [[1, '1']]);
    expect(wiresOf(out)).toEqual([]);
    const ends = {
      ...PLACED.fingers[0],
      name: '1',
      x: far,
      y: 0,
      width: 1,
      angle: 0,
      tier: 1,
      side: 'left' as const,
    };
    const away = placedBy([pad(1, 'A', 'bottom', 1000, 95)], [], [], {
      fingers: [ends],
      bonds: [{ bondPad: 1, finger: '1' }],
    });
    expect(wiresOf(away)).toEqual([]);
    expect(told(away)).toEqual([]);
  }
});

it('a wire of no length is one', () => {
  const flat = placedBy([pad(1, 'A', 'bottom', 1000, 95)], [finger('1', 'bottom', 0, 905)], [[1, '1']]);
  expect(wiresOf(flat)[0]?.span).toBe(0);
  expect(told(flat)).toEqual(['finger-in-die']);
});

it('drawings, tables and proposals come of anything', () => {
  const odd = placedBy(
    [pad(1, 'A', 'bottom', 1000, 95), pad(1, 'A', 'top', 1000, 95), pad(3, 'C', 'left', -500, 9000)],
    [finger('1', 'bottom', 0, 3000), finger('1', 'top', 0, 3000)],
    [
      [1, '1'],
      [1, '1'],
      [3, 'gone'],
      [9, '1'],
      [3, null],
    ],
    { exchange: [['A', 'C', 'nobody'], []] },
  );
  expect(suggestOrder(odd).after).toBeLessThanOrEqual(suggestOrder(odd).before);
  expect(bondSheets(odd).get('bond.svg')).toContain('</svg>');
  expect(wiresCsv(odd)).toContain('\r\n');
  const empty = placedBy([], [], []);
  expect(bondSheets(empty).get('bond.svg')).toContain('</svg>');
  expect(wiresCsv(empty).split('\r\n')).toHaveLength(2);
});
