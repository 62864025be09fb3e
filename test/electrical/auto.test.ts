/**
 * Shows: `supplies: auto` sets pairs where the load is, around what the user fixed; leaves pins together that must be;
 * takes another side where one has no room; says so where none has; fills room to spare up to a limit; takes the cell
 * that is named; and feeds an arc that nothing feeds.
 * Source: our own rules.
 */
import { describe, expect, test } from 'vitest';
import { chartsOf } from '../../src/electrical/charts.ts';
import type { Placement } from '../../src/format/placement.ts';
import { problemText } from '../../src/problems/problem.ts';
import { errorsOf, laidOf, runOf, withBlock } from './sample.ts';

const TIDE = 'fixtures/tide-gauge/ring.yaml';
const CARD = 'SD_CLK, SD_CMD, SD_D0, SD_D1, SD_D2, SD_D3';
/** Six outputs of the card switch; the budget says how many supplies it takes. */
const block = (budget: number, supplies = 'auto'): string => `electrical:
  outputs:
    card: {pins: [${CARD}], slope: 15}
  noise: {digital: ${budget}}
  supplies: ${supplies}
`;
const laid = (text: string, change: (ring: string) => string = (ring) => ring): Placement =>
  laidOf(TIDE, { 'ring.yaml': (ring) => change(withBlock(text)(ring)) });
const pinsOf = (placement: Placement, side?: string): readonly string[] =>
  placement.cells
    .filter((cell) => side === undefined || cell.side === side)
    .flatMap((cell) => cell.pins ?? []);
const set = (placement: Placement): readonly string[] =>
  pinsOf(placement).filter((pin) => /_\d$/.test(pin) && pin.startsWith('V'));
const feedsOf = (placement: Placement, net: string): number =>
  placement.rails.filter((rail) => rail.net === net).reduce((sum, rail) => sum + rail.supplies.length, 0);

const WIDE = (ring: string): string =>
  ring.replace('die: {width: 1700, height: 1600}', 'die: {width: 2000, height: 2000}');

test("pairs go where the load is: among the card's six outputs, and halve the worst stretch", () => {
  const before = laid(block(0.1, 'given'), WIDE);
  const after = laid(block(0.1), WIDE);
  expect(errorsOf(before).length).toBeGreaterThan(0);
  expect(errorsOf(after)).toEqual([]);
  const worst = (placement: Placement) =>
    Math.max(...chartsOf(placement).flatMap((c) => (c.kind === 'load' ? [c.worst] : [])));
  expect(worst(before)).toBe(90);
  expect(worst(after)).toBeLessThanOrEqual(45);
  const left = pinsOf(after, 'left');
  const at = left.indexOf('VSSIO_2');
  expect(left[at - 1]).toBe('VDDIO_2');
  expect(at).toBeGreaterThan(left.indexOf('SD_CLK'));
  expect(at).toBeLessThan(left.indexOf('SD_D3'));
});

test('pins that must stand together stay so', () => {
  const together = (ring: string): string =>
    WIDE(ring).replace('{together: [XI, XO]}', `{together: [${CARD}]}`);
  const placement = laid(block(0.1), together);
  const pins = pinsOf(placement);
  const first = pins.indexOf('SD_CLK');
  expect(pins.slice(first, first + 6).join(', ')).toBe(CARD);
  expect(set(placement).length).toBeGreaterThan(0);
  expect(errorsOf(placement)).toEqual([]);
});

test('a side without room leaves its share to another', () => {
  // On the given die the left side is too full for a pair by 13 um.
  const placement = laid(block(0.1));
  expect(set(placement).length).toBeGreaterThan(0);
  expect(pinsOf(placement, 'left').filter((pin) => set(placement).includes(pin))).toEqual([]);
});

test('where no side has room it says so, and what would help', () => {
  const outcome = runOf(TIDE, { 'ring.yaml': withBlock(block(0.045)) });
  if (outcome.kind !== 'impossible') throw new Error('there is no room');
  const [first] = outcome.problems;
  expect(first?.code).toBe('no-room-for-supplies');
  const text = outcome.problems.map(problemText).join('\n');
  expect(text).toMatch(
    /ring\.yaml:\d+:1: the ring needs \d+ more supply cells, and with them it cannot be laid/,
  );
  expect(text).toContain('loosen a budget');
  expect(outcome.problems.length).toBeGreaterThan(1);
});

describe('room to spare', () => {
  test('takes further pairs up to the limit, and never a larger die', () => {
    const wide = (ring: string): string =>
      WIDE(ring).replace('angle: 35', 'angle: 60').replace('length: 2500', 'length: 4000');
    const none = laid(block(0.3), wide);
    const two = laid(block(0.3, '{spare: 2}'), wide);
    expect(set(none)).toEqual([]);
    expect(set(two).length).toBe(4);
    expect(two.die).toEqual(none.die);
    expect(errorsOf(two)).toEqual([]);
  });

  test('takes none that would make a wire break a limit', () => {
    const placement = laid(block(0.3, '{spare: 9}'), WIDE);
    expect(errorsOf(placement)).toEqual([]);
    expect(set(placement).length).toBeLessThan(18);
  });

  test('takes none where the die would grow', () => {
    const fit = (ring: string): string =>
      ring
        .replace('die: {width: 1700, height: 1600}', 'die: fit')
        .replace('core: {width: 1000, height: 900', 'core: {width: 100, height: 100');
    const none = laid(block(0.3), fit);
    const spare = laid(block(0.3, '{spare: 50}'), fit);
    expect(spare.die).toEqual(none.die);
    expect(set(spare).length).toBeLessThan(100);
  });
});

test('the cell that is named is set', () => {
  const cells = (text: string): string => {
    const own = /^ {2}vddio:\n(?: {4}.*\n)+/m.exec(text)?.[0] ?? '';
    return text.replace(own, `${own}${own.replace('vddio:', 'vddio_strong:')}`);
  };
  const placement = laidOf(TIDE, {
    'ring.yaml': (ring) => WIDE(withBlock(block(0.1, '{cells: {VDDIO: vddio_strong}}'))(ring)),
    'harbour.cells.yaml': cells,
  });
  const strong = placement.cells.filter((cell) => cell.footprint === 'vddio_strong');
  expect(strong.map((cell) => cell.pins?.[0])).toContain('VDDIO_2');
});

test('an arc that nothing feeds gets a pair of its own', () => {
  // Without its I/O supply the analog section's VDDIO is an arc that nothing feeds.
  const unfed = (ring: string): string =>
    WIDE(ring)
      .replace('    - {pin: AVDDIO, cell: vddio, section: analog}\n', '')
      .replace('besideGround: [vddio, avddio]', 'besideGround: [vddio]');
  const given = laid(block(0.3, 'given'), unfed);
  expect(errorsOf(given)).toContain('arc-unfed');
  expect(feedsOf(given, 'avddio')).toBe(0);
  const auto = laid(block(0.3), unfed);
  expect(feedsOf(auto, 'avddio')).toBe(1);
  expect(errorsOf(auto)).toEqual([]);
});
