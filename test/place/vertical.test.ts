/**
 * Shows: a library with other footprints for the vertical sides gets them there, fillers and break cells that are set by
 * themselves included, turned as each is drawn, and the ring is sound. Source: ring-model section 1; no outside source.
 */
import { expect, it } from 'vitest';
import type { Footprint } from '../../src/library/footprint.ts';
import { lay } from '../../src/run.ts';
import { entry, footprint, library, ring, SECTION } from '../helpers/ring.ts';

/** The same cell drawn for the right side. */
const upright = (f: Footprint): Footprint => ({
  ...f,
  name: `${f.name}_v`,
  drawnFor: 'right',
  drawn: { width: f.depth, height: f.width },
  turns: { plain: [0, 180], mirrored: [0, 180] },
  onVertical: null,
});

it('sets the stand-ins on the left and right sides', () => {
  const flat = library().map((f) =>
    f.role === 'corner'
      ? f
      : { ...f, onVertical: `${f.name}_v`, turns: { plain: [0, 180], mirrored: [0, 180] } as const },
  );
  const cells = [...flat, ...flat.filter((f) => f.role !== 'corner').map(upright)];
  const named = (name: string): Footprint =>
    cells.find((f) => f.name === name) ?? footprint(name, 'signal', 35);
  const power = (suffix: string, section: string) =>
    ['vdd', 'vss', 'vddio', 'vssio'].map((lane) =>
      entry(named(`sup_${lane}${suffix}`), `${section}_${lane}`, { section, nets: [`${section}_${lane}`] }),
    );
  const other = (name: string) => ({
    ...SECTION,
    name,
    lanes: new Map([...SECTION.lanes].map(([lane]) => [lane, `${name}_${lane.toLowerCase()}`])),
  });
  const laid = lay(
    ring(
      cells,
      'inline',
      { left: power('_v', 'a'), bottom: power('', 'b') },
      {
        sections: [other('a'), other('b')],
        fillers: flat.filter((f) => f.role === 'filler'),
        breaks: flat.filter((f) => f.role === 'break'),
      },
    ),
  );
  if (!laid.ok) throw new Error(JSON.stringify(laid.problems));
  expect(laid.value.findings.filter((f) => f.severity === 'error')).toEqual([]);
  for (const cell of laid.value.cells.filter((c) => c.side !== null)) {
    const vertical = cell.side === 'left' || cell.side === 'right';
    expect([cell.name, cell.footprint.endsWith('_v')]).toEqual([cell.name, vertical]);
    expect([0, 180]).toContain(cell.rotation);
  }
  const breaks = laid.value.cells.filter((c) => c.role === 'break').map((c) => [c.side, c.footprint]);
  expect(breaks).toEqual([
    ['left', 'part_all_v'],
    ['bottom', 'part_all'],
  ]);
});
