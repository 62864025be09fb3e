/**
 * Shows: on the three demonstrations, which demand decides for each net, before and after `auto`; the ring still passes
 * every check; and each needed cell that is taken away is reported.
 * Source: our own rules; the demonstrations and what they are asked to carry are invented.
 */
import { describe, expect, test } from 'vitest';
import { supplyCells } from '../../src/electrical/groups.ts';
import { electricalHits } from '../../src/electrical/hits.ts';
import { assessedValue } from '../../src/figures/figure.ts';
import type { Placement } from '../../src/format/placement.ts';
import { FROST_HUB, LAMP_CONTROLLER, TIDE_GAUGE } from './blocks.ts';
import { assessmentOf, errorsOf, laidOf, runOf, withBlock } from './sample.ts';

const laid = (name: string, block: string, supplies: string): Placement =>
  laidOf(`fixtures/${name}/ring.yaml`, { 'ring.yaml': withBlock(block.replace('SUPPLIES', supplies)) });

/** By net: how many cells there are, how many are needed, and what decides. */
const table = (placement: Placement): Readonly<Record<string, readonly unknown[]>> =>
  Object.fromEntries(
    assessmentOf(placement).supplies.map(({ group, have, needed, decides }) => [
      group.net,
      [have, assessedValue(needed), decides],
    ]),
  );

const CASES = [
  {
    name: 'tide-gauge',
    block: TIDE_GAUGE,
    before: {
      vddio: [3, 4, 'noise'],
      vssio: [3, 4, 'noise'],
      vdd: [3, 2, 'current'],
      avssio: [1, 1, 'discharge'],
    },
    after: {
      vddio: [4, 4, 'noise'],
      vssio: [4, 4, 'noise'],
      vdd: [3, 2, 'current'],
      avssio: [1, 1, 'discharge'],
    },
    broken: ['supply-count', 'switching-noise'],
    set: 2,
  },
  {
    name: 'frost-hub',
    block: FROST_HUB,
    before: {
      vddv: [3, 4, 'noise'],
      vssv: [3, 3, 'noise'],
      vss: [7, 2, 'current'],
      vddio: [4, 1, 'discharge'],
    },
    after: {
      vddv: [4, 4, 'noise'],
      vssv: [4, 3, 'noise'],
      vss: [7, 2, 'current'],
      vddio: [4, 1, 'discharge'],
    },
    broken: ['supply-count', 'switching-noise'],
    set: 2,
  },
  {
    name: 'lamp-controller',
    block: LAMP_CONTROLLER,
    before: {
      vlamp: [6, 6, 'noise'],
      glamp: [6, 7, 'noise'],
      vdd: [8, 7, 'current'],
      vssio: [6, undefined, null],
    },
    after: {
      vlamp: [7, 6, 'noise'],
      glamp: [7, 7, 'noise'],
      vdd: [8, 7, 'current'],
      vssio: [6, undefined, null],
    },
    broken: ['supply-count', 'switching-noise'],
    set: 2,
  },
] as const;

/** The placement with one cell and its pads gone, as a script could leave it. */
const without = (placement: Placement, cell: string): Placement => ({
  ...placement,
  cells: placement.cells.filter((one) => one.name !== cell),
  bondPads: placement.bondPads.filter((pad) => pad.cell !== cell),
});

describe.each(CASES)('$name', ({ name, block, before, after, broken, set }) => {
  const given = laid(name, block, 'given');
  const auto = laid(name, block, 'auto');

  test('before: the table, and what is missing is reported', () => {
    expect(table(given)).toMatchObject(before);
    expect([...new Set(errorsOf(given))]).toEqual(broken);
  });

  test('after `auto`: the table, and no finding of any rule', () => {
    expect(table(auto)).toMatchObject(after);
    expect(errorsOf(auto)).toEqual([]);
    expect(auto.bondPads.length).toBe(given.bondPads.length + set);
  });

  test("the user's own cells keep their order, and the set ones stand in pairs", () => {
    const pins = (placement: Placement) => placement.cells.flatMap((cell) => cell.pins ?? []);
    const own = pins(given);
    const added = pins(auto).filter((pin) => !own.includes(pin));
    expect(pins(auto).filter((pin) => !added.includes(pin))).toEqual(own);
    expect(added.length).toBe(set);
    for (let i = 0; i < added.length; i += 2) {
      const at = pins(auto).indexOf(added[i] ?? '');
      expect(pins(auto)[at + 1]).toBe(added[i + 1]);
    }
    expect(runOfNotes(name, block)).toContain('supplies-set');
  });

  test('each needed cell that is taken away is reported for its net', () => {
    const needed = assessmentOf(auto).supplies.filter(
      ({ have, needed: n }) => assessedValue(n) === have && have > 1,
    );
    expect(needed.length).toBeGreaterThan(0);
    for (const { group } of needed)
      for (const { cell } of supplyCells(group)) {
        const hits = electricalHits(assessmentOf(without(auto, cell.cell.name))).flatMap((rule) => rule.hits);
        expect(hits.some((hit) => hit.items.includes(group.net))).toBe(true);
      }
  });
});

function runOfNotes(name: string, block: string): readonly string[] {
  const outcome = runOf(`fixtures/${name}/ring.yaml`, {
    'ring.yaml': withBlock(block.replace('SUPPLIES', 'auto')),
  });
  return outcome.kind === 'laid' ? outcome.notes.map((note) => note.code) : [];
}

test('without the block nothing electrical is computed, and the summary says so', () => {
  const bare = laidOf('fixtures/tide-gauge/ring.yaml', { 'ring.yaml': withBlock('') });
  expect(bare.summary.electrical).toEqual({ notAssessed: '`electrical` in the ring description' });
  expect(bare.rules.electrical).toBeUndefined();
  expect(bare.coreStrips).toBeUndefined();
});
