/**
 * Shows: holes that a review found stay closed. A break cell's tie must not join two nets; every run of a section that no
 * lane joins to another needs its own clamp; a bond pad over circuit lies within every cell under it.
 * Source: ring-model sections 3 and 5, sentence by sentence; the rings are the reviewer's, built in code.
 */
import { expect, it } from 'vitest';
import type { Footprint } from '../../src/library/footprint.ts';
import { lay } from '../../src/run.ts';
import type { Entry, Ring } from '../../src/spec/ring.ts';
import { entry, footprint, LANES, library, ring, SECTION, throughLanes, um } from '../helpers/ring.ts';

const named = (cells: readonly Footprint[], name: string): Footprint => {
  const cell = cells.find((f) => f.name === name);
  if (cell === undefined) throw new Error(`no ${name}`);
  return cell;
};

const section = (name: string) => ({
  ...SECTION,
  name,
  lanes: new Map(LANES.map((lane) => [lane, `${name}_${lane.toLowerCase()}`])),
});

/** The four supplies of a section, with their clamps or without. */
const power = (cells: readonly Footprint[], of: string, run: number, clamps = true): Entry[] =>
  LANES.map((lane) => {
    const cell = named(cells, `sup_${lane.toLowerCase()}`);
    const own = clamps ? cell : { ...cell, name: `${cell.name}_bare`, clamps: [] };
    return entry(own, `${of}${run}_${lane}`, { section: of, nets: [`${of}_${lane.toLowerCase()}`] });
  });

const rulesOf = (made: Ring): readonly string[] => {
  const laid = lay(made);
  if (!laid.ok) throw new Error(JSON.stringify(laid.problems));
  return laid.value.findings.filter((f) => f.severity === 'error').map((f) => f.rule);
};

it('a break cell that ties a lane which goes on to one that it cuts shorts them', () => {
  const made = (ties: readonly (readonly string[])[]) => {
    const cut = footprint('cut', 'break', 5, { lanes: throughLanes('M5', ['VDD']), ties });
    const cells = [...library().filter((f) => f.role !== 'break'), cut];
    const one = section('a');
    const other = { ...section('a'), name: 'b', lanes: new Map([...one.lanes, ['VDD', 'b_vdd']]) };
    const second = power(cells, 'b', 2).map((e, i) => ({
      ...e,
      nets: [i === 0 ? 'b_vdd' : `a_${LANES[i]?.toLowerCase()}`],
    }));
    return ring(cells, 'inline', { left: power(cells, 'a', 1), right: second }, { sections: [one, other] });
  };
  expect(rulesOf(made([]))).toEqual([]);
  expect(rulesOf(made([['VDD', 'VSS']]))).toEqual(['tie', 'tie']);
});

it('a second run of a section that nothing joins to the first needs its own clamps', () => {
  const cells = library();
  const bare = cells
    .filter((f) => f.role === 'supply')
    .map((f) => ({ ...f, name: `${f.name}_bare`, clamps: [] }));
  const made = (clamps: boolean) =>
    ring(
      [...cells, ...bare],
      'inline',
      {
        left: power(cells, 'a', 1),
        bottom: power(cells, 'b', 2),
        right: power(cells, 'a', 3, clamps),
        top: power(cells, 'b', 4),
      },
      { sections: [section('a'), section('b')] },
    );
  expect(rulesOf(made(true))).toEqual([]);
  expect(rulesOf(made(false))).toEqual(['clamp-missing', 'clamp-missing']);
});

it('a bond pad over circuit that hangs over a shallower neighbour is found', () => {
  const cells = [...library(40, [1]), footprint('shallow', 'clamp', 20, { depth: um(100) })];
  const made = (neighbour: boolean) => {
    const supplies = power(cells, 'a', 1);
    const left = neighbour
      ? supplies.flatMap((e) => [e, entry(named(cells, 'shallow'), null, { section: 'a' })])
      : supplies;
    return ring(cells, 'over-circuit', { left }, { sections: [section('a')] });
  };
  expect(rulesOf(made(false))).toEqual([]);
  expect(new Set(rulesOf(made(true)))).toContain('pad-depth');
});
