/**
 * Shows: the tests' own solver of small networks that are no chain, by which discharge paths are judged: linear ones
 * as ngspice solves them, ones with diodes and clamps so that Kirchhoff's law holds and each conducts just when it is
 * above its threshold.
 * Sources: ngspice's operating point; Kirchhoff's law.
 */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { type Element, type Mesh, solveMesh } from './mesh.ts';
import { hasNgspice, ngspice, numbers } from './outside.ts';

/** A tree that joins all nodes and some more elements; the tree alone always conducts. */
function randomMesh(seed: number, nodes: number, more: number, diodes: boolean): Mesh {
  const random = numbers(seed);
  const element = (from: number, to: number, threshold: number | null): Element => ({
    from,
    to,
    resistance: 10 ** (-1 + 2 * random()),
    threshold,
  });
  const elements: Element[] = [];
  for (let i = 1; i < nodes; i++) {
    // From each node one way down to the reference, perhaps through a diode.
    const to = Math.floor(random() * i);
    elements.push(element(i, to, diodes && random() < 0.5 ? random() : null));
  }
  for (let k = 0; k < more; k++) {
    const from = Math.floor(random() * nodes);
    const to = (from + 1 + Math.floor(random() * (nodes - 1))) % nodes;
    elements.push(element(from, to, diodes && random() < 0.7 ? random() : null));
  }
  const pressed = [{ node: nodes - 1, current: 1.33 }];
  return { nodes, elements, pressed };
}

test("a linear mesh is ngspice's operating point to 1e-9 relative", () => {
  const mesh = randomMesh(3, 12, 14, false);
  const solved = solveMesh(mesh);
  /** What ngspice 39 gave for the last node. */
  const recorded = 2.844714925965431;
  expect(Math.abs((solved?.voltage[11] ?? 0) / recorded - 1)).toBeLessThan(1e-9);
  if (!hasNgspice) return;
  const name = (node: number): string => (node === 0 ? '0' : `n${node}`);
  const lines = mesh.elements.map((e, k) => `r${k} ${name(e.from)} ${name(e.to)} ${e.resistance}`);
  const spice = ngspice(
    [...lines, 'i1 0 n11 dc 1.33'],
    ['op', ...Array.from({ length: 11 }, (_, i) => `print v(n${i + 1})`)],
  );
  for (let i = 1; i < 12; i++) {
    const value = spice.get(`v(n${i})`) ?? Number.NaN;
    expect(Math.abs((solved?.voltage[i] ?? 0) / value - 1)).toBeLessThan(1e-9);
  }
});

test('with diodes Kirchhoff holds and each conducts just when it is above its threshold', () => {
  fc.assert(
    fc.property(
      fc.integer(),
      fc.integer({ min: 2, max: 14 }),
      fc.integer({ min: 0, max: 25 }),
      (seed, nodes, more) => {
        const mesh = randomMesh(seed, nodes, more, true);
        const solved = solveMesh(mesh);
        if (!solved) throw new Error('not solved');
        const out = new Float64Array(nodes);
        for (const [k, { from, to, resistance, threshold }] of mesh.elements.entries()) {
          const current = solved.current[k] ?? Number.NaN;
          out[from] = (out[from] ?? 0) + current;
          out[to] = (out[to] ?? 0) - current;
          const above = (solved.voltage[from] ?? 0) - (solved.voltage[to] ?? 0) - (threshold ?? 0);
          const law = threshold === null ? above / resistance : Math.max(0, above) / resistance;
          expect(Math.abs(current - law)).toBeLessThan(1e-9);
        }
        for (let i = 1; i < nodes; i++)
          expect(Math.abs((out[i] ?? 0) - (i === nodes - 1 ? 1.33 : 0))).toBeLessThan(1e-9);
      },
    ),
    { numRuns: 500 },
  );
});

test('a pad through its diode, a rail, a clamp and the other rail: the drops add up', () => {
  // Pad 3, its diode 0.7 V and 0.5 ohm to rail node 2, 2 ohm to node 1, a clamp of 1.1 V and 0.8 ohm to node 0.
  const solved = solveMesh({
    nodes: 4,
    elements: [
      { from: 3, to: 2, resistance: 0.5, threshold: 0.7 },
      { from: 2, to: 1, resistance: 2, threshold: null },
      { from: 1, to: 0, resistance: 0.8, threshold: 1.1 },
    ],
    pressed: [{ node: 3, current: 4 / 3 }],
  });
  expect(solved?.voltage[3]).toBeCloseTo(0.7 + 1.1 + (4 / 3) * 3.3, 10);
});

test('two clamps side by side share the current', () => {
  const clamp = { from: 1, to: 0, resistance: 1, threshold: 1 };
  const solved = solveMesh({ nodes: 2, elements: [clamp, clamp], pressed: [{ node: 1, current: 2 }] });
  expect(solved?.voltage[1]).toBeCloseTo(2, 10);
  expect([...(solved?.current ?? [])].map((i) => Number(i.toFixed(9)))).toEqual([1, 1]);
});
