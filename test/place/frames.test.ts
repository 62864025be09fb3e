/**
 * Shows: a cell's rotation, mirroring and origin are those of the library's own drawing. Source: the worked example of
 * ring-model section 1 (75 x 350, mirrored, right side, die 3000 wide: lower-left (2600, 1000), origin (2950, 1075));
 * otherwise a drawing of an F whose four marks are mirrored, turned and moved here, by rotation matrices.
 */
import { expect, it } from 'vitest';
import type { Side } from '../../src/geometry/side.ts';
import { originOf } from '../../src/geometry/side.ts';
import type { Footprint } from '../../src/library/footprint.ts';
import { lay } from '../../src/run.ts';
import { entry, footprint, library, ring, um } from '../helpers/ring.ts';

it('places the worked cell', () => {
  const drawn = { width: um(75), height: um(350) };
  expect(originOf(drawn, true, 90, { x: um(2600), y: um(1000) })).toEqual({ x: um(2950), y: um(1075) });
});

it('lays it so: mirrored, right side, t 50 to 400, s 1000 to 1075', () => {
  const cell = footprint('io', 'signal', 75, { depth: um(350) });
  const corner = footprint('corner', 'corner', 355, { depth: um(355) });
  const fill = footprint('fill', 'filler', 5, { depth: um(350) });
  const laid = lay(
    ring(
      [cell, corner, fill],
      'inline',
      { right: [entry(cell, null, { at: um(1000), mirrored: true })] },
      {
        die: { width: um(3000), height: um(3000) },
        edge: { street: um(30), seal: um(10), clearance: um(10) },
      },
    ),
  );
  if (!laid.ok) throw new Error(JSON.stringify(laid.problems));
  expect(laid.value.cells.find((c) => c.footprint === 'io')).toMatchObject({
    x: 2600,
    y: 1000,
    width: 350,
    height: 75,
    rotation: 90,
    mirrored: true,
    origin: { x: 2950, y: 1075 },
  });
});

/** Where a point of the drawing lands: mirrored x to -x if so, then turned by matrix, then moved. */
function landed(
  cell: { rotation: number; mirrored: boolean; origin: { x: number; y: number } },
  x: number,
  y: number,
) {
  const [mx, my] = [cell.mirrored ? -x : x, y];
  const [c, s] = [
    Math.round(Math.cos((cell.rotation * Math.PI) / 180)),
    Math.round(Math.sin((cell.rotation * Math.PI) / 180)),
  ];
  return { x: cell.origin.x + c * mx - s * my, y: cell.origin.y + s * mx + c * my };
}

/** The middle of the drawing's outward edge, and the end of that edge where s is low, unmirrored. */
const MARKS: Record<Side, (w: number, h: number) => { edge: [number, number]; start: [number, number] }> = {
  bottom: (w) => ({ edge: [w / 2, 0], start: [0, 0] }),
  right: (w, h) => ({ edge: [w, h / 2], start: [w, 0] }),
  top: (w, h) => ({ edge: [w / 2, h], start: [w, h] }),
  left: (_w, h) => ({ edge: [0, h / 2], start: [0, h] }),
};

it('turns the outward edge outward and the start edge to low s, whichever side the library draws for', () => {
  for (const drawnFor of ['bottom', 'right', 'top', 'left'] as const)
    for (const mirrored of [false, true]) {
      const flat = drawnFor === 'bottom' || drawnFor === 'top';
      const drawn = flat ? { width: um(35), height: um(180) } : { width: um(180), height: um(35) };
      const io: Footprint = { ...footprint('io', 'signal', 35), drawnFor, drawn };
      const cells = [...library().filter((f) => f.name !== 'io'), io];
      const one = (pin: string) => [entry(io, pin, { mirrored })];
      const laid = lay(
        ring(cells, 'inline', { left: one('l'), bottom: one('b'), right: one('r'), top: one('t') }),
      );
      if (!laid.ok) throw new Error(JSON.stringify(laid.problems));
      const { die } = laid.value;
      for (const cell of laid.value.cells.filter((c) => c.footprint === 'io')) {
        const marks = MARKS[drawnFor](flat ? 35 : 180, flat ? 180 : 35);
        const edge = landed(cell, ...marks.edge);
        const start = landed(cell, ...marks.start);
        const side = cell.side ?? 'left';
        // 133 = edge allowance 60, pad 70, gap 3.
        const t = { left: edge.x, bottom: edge.y, right: die.width - edge.x, top: die.height - edge.y }[side];
        expect(t).toBe(133);
        const s = (p: { x: number; y: number }) =>
          ({ left: die.height - p.y, bottom: p.x, right: p.y, top: die.width - p.x })[side];
        expect(s(start) - s(edge)).toBe(mirrored ? 17.5 : -17.5);
      }
    }
});

it('turns a corner cell drawn for any corner so that its two outward edges lie outward', () => {
  for (const drawnFor of ['left', 'bottom', 'right', 'top'] as const) {
    const turned = drawnFor === 'bottom' || drawnFor === 'top';
    const corner: Footprint = {
      ...footprint('corner', 'corner', 150),
      depth: um(200),
      drawn: turned ? { width: um(200), height: um(150) } : { width: um(150), height: um(200) },
      drawnFor,
    };
    const cells = [...library().filter((f) => f.role !== 'corner'), corner];
    const io = footprint('io', 'signal', 35);
    const laid = lay(ring(cells, 'over-circuit', { left: [entry(io, 'a')] }));
    if (!laid.ok) throw new Error(JSON.stringify(laid.problems));
    const { die } = laid.value;
    // The drawing's own corner of the die: lower-left for the corner after the left side, and so on.
    const [w, h] = turned ? [200, 150] : [150, 200];
    const own = { left: [0, 0], bottom: [w, 0], right: [w, h], top: [0, h] }[drawnFor];
    const expected = {
      left: [60, 60],
      bottom: [die.width - 60, 60],
      right: [die.width - 60, die.height - 60],
      top: [60, die.height - 60],
    };
    for (const side of ['left', 'bottom', 'right', 'top'] as const) {
      const cell = laid.value.cells.find((c) => c.name === `corner-after-${side}`);
      if (cell === undefined) throw new Error('no corner');
      const at = landed(cell, own[0] ?? 0, own[1] ?? 0);
      expect([at.x, at.y]).toEqual(expected[side]);
      // 150 along the side that follows, 200 along the one before.
      const flat = side === 'left' || side === 'right';
      expect([cell.width, cell.height]).toEqual(flat ? [150, 200] : [200, 150]);
    }
  }
});
