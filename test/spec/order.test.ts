/**
 * Shows that what a user gets wrong in an order, its groups or a die that is not given in full is told with its place
 * and how to mend it; and that an order is laid as one ring, from lists and from a spreadsheet. Source of the places:
 * counted in the text of PLAIN_RING with its sides made an order, whose first cell stands on line 19.
 */
import { describe, expect, test } from 'vitest';
import { lay } from '../../src/run.ts';
import { FREED } from './order-keys.ts';
import { changed, footprint, libraryWith, outcomeOf, PLAIN_RING, problemsOf, ringOf } from './sample.ts';

const A0 = '{pin: A0, cell: io_bi}';
const LAST = '    - {pin: VSSIO, cell: pw_vssio}\n';
const groups = (text: string): readonly [string, string] => [LAST, `${LAST}  groups: ${text}\n`];
const die = (text: string): readonly [string, string] => ['die: {width: 2000, height: 1800}', `die: ${text}`];

type Mistake = readonly [
  what: string,
  swaps: readonly (readonly [string, string])[],
  told: string,
  words: string,
];

const MISTAKES: readonly Mistake[] = [
  ['sides beside an order', [['order:', 'sides: {left: []}\norder:']], '18:1 either-or', 'both given'],
  ['an order of nothing', [[FREED[1], 'order: {groups: []}\n']], '17:1 missing-key', '`cells`'],
  ['cells and a file of them', [['  cells:', '  pins: list.csv\n  cells:']], '17:1 either-or', 'both given'],
  ['a fixed cell without a side', [[A0, '{pin: A0, cell: io_bi, at: 500}']], '19:34 side-needed', '`side:`'],
  ['an unknown pin in a group', [groups('[{pins: [A0, A9], sides: [left]}]')], '26:24 unknown-pin', '`A0`'],
  ['a pin twice in a group', [groups('[{pins: [A0, A0], sides: [left]}]')], '26:24 duplicate-name', 'twice'],
  ['a group that says nothing', [groups('[{pins: [A0]}]')], '26:12 useless-key', 'every side'],
  [
    'a whole group of one cell',
    [groups('[{pins: [A0], sides: [top], whole: true}]')],
    '26:39 useless-key',
    'single cell',
  ],
  [
    'a whole group with another pin between',
    [groups('[{pins: [A0, VDD], whole: true}]')],
    '26:19 group-not-together',
    '`A1`',
  ],
  [
    'groups that share no side',
    [groups('[{pins: [A0], sides: [top]}, {pins: [A0, A1], sides: [left]}]')],
    '19:7 no-side-left',
    'share a side',
  ],
  [
    'a side that the group rules out',
    [[A0, '{pin: A0, cell: io_bi, side: left}'], groups('[{pins: [A0, A1], sides: [top]}]')],
    '19:36 no-side-left',
    'left',
  ],
  [
    'a row where no side has two',
    [[A0, '{pin: A0, cell: io_bi, row: outer}']],
    '19:35 useless-key',
    'single row',
  ],
  ['an unknown cell, told once', [[A0, '{pin: A0, cell: io_b}']], '19:23 unknown-cell', '`io_bi`'],
  ['a die that says nothing', [die('{}')], '3:6 useless-key', '`die: fit`'],
  [
    'an aspect beside a full die',
    [die('{width: 2000, height: 1800, aspect: 2}')],
    '3:34 useless-key',
    'both given',
  ],
  ['an area beside an extent', [die('{width: 2000, least: area}')], '3:20 useless-key', 'one extent'],
  ['an aspect below one', [die('{aspect: 0.5}')], '3:15 out-of-range', 'at least 1'],
  ['a width off the grid', [die('{width: 2000.001}')], '3:14 off-grid', 'grid'],
];

describe('mistakes in an order', () => {
  test.each(MISTAKES)('%s', (_, swaps, told, words) => {
    const text = changed(PLAIN_RING, FREED, ...swaps);
    expect(problemsOf(text)).toEqual([told]);
    const outcome = outcomeOf(text);
    const [problem] = outcome.ok ? [] : outcome.problems;
    expect(`${problem?.message} ${problem?.mend}`).toContain(words);
  });

  test('the least area where pins are bound to sides', () => {
    expect(problemsOf(changed(PLAIN_RING, die('{least: area}')))).toEqual(['3:7 useless-key']);
  });

  test('a row that one of the sides has room for is no mistake', () => {
    const two = changed(
      PLAIN_RING,
      FREED,
      [A0, '{pin: A0, cell: io_bi, row: inner}'],
      ['edge: {street: 40}', 'edge: {street: 40}\nstyle: {default: inline, top: staggered}'],
    );
    const ring = ringOf(two);
    expect(ring.order?.cells[0]?.on.top?.row).toBe('inner');
  });
});

describe('an order', () => {
  test('is laid on the least die with every cell on one side', () => {
    const laid = lay(ringOf(changed(PLAIN_RING, FREED, die('fit'))));
    expect(laid.ok && laid.value.bondPads.map((pad) => pad.pin).toSorted()).toEqual([
      'A0',
      'A1',
      'VDD',
      'VDDIO',
      'VSS',
      'VSSIO',
    ]);
  });

  test('takes for each side the cell that stands for it there', () => {
    const text = changed(PLAIN_RING, FREED, [A0, '{pin: A0, cell: io_side}']);
    const on = ringOf(text).order?.cells[0]?.on;
    expect(
      Object.fromEntries(Object.entries(on ?? {}).map(([side, entry]) => [side, entry.footprint.name])),
    ).toEqual({
      left: 'io_upright',
      bottom: 'io_side',
      right: 'io_upright',
      top: 'io_side',
    });
    const laid = lay(ringOf(changed(text, die('fit'))));
    expect(laid.ok).toBe(true);
    const io = laid.ok ? laid.value.cells.find((cell) => cell.name === 'A0') : undefined;
    expect(io?.footprint).toBe(io?.side === 'left' || io?.side === 'right' ? 'io_upright' : 'io_side');
  });

  test('keeps a whole group over cells without pins, and pins that are together', () => {
    const whole = ringOf(changed(PLAIN_RING, FREED, die('fit'), groups('[{pins: [A1, VDD], whole: true}]')));
    const laid = lay(whole);
    const side = (pin: string) =>
      laid.ok ? laid.value.bondPads.find((pad) => pad.pin === pin)?.side : undefined;
    expect(side('A1')).toBe(side('VDD'));
    const paired = lay(
      ringOf(
        changed(PLAIN_RING, FREED, die('fit'), ['order:', 'neighbours: [{together: [VSS, VDDIO]}]\norder:']),
      ),
    );
    expect(paired.ok && paired.value.findings.filter((f) => f.rule === 'pins-together')).toEqual([]);
  });

  test('comes from a spreadsheet as well, with a side where a cell has one', () => {
    const csv = 'pin,cell,side\nA0,io_bi,\nA1,io_bi,top\n,clamp,\n';
    const given = { files: { 'list.csv': csv } };
    const text = changed(PLAIN_RING, [FREED[0], 'order: {pins: list.csv}\n']);
    expect(ringOf(text, given).order?.cells.map(({ on }) => Object.keys(on).length)).toEqual([4, 1, 4]);
    expect(problemsOf(text, { files: { 'list.csv': 'pin,cel\nA0,io_bi\n' } })).toEqual(
      ['list.csv:1:5 unknown-column', 'list.csv:1:1 missing-column'].toSorted(),
    );
    expect(problemsOf(text)).toEqual(['17:15 no-such-file']);
  });

  test('names a library cell that no side of the style allows', () => {
    const library = libraryWith(footprint('plainest', 'signal', 60));
    expect(problemsOf(changed(PLAIN_RING, FREED, [A0, '{pin: A0, cell: plainest}']), { library })).toEqual([
      '19:13 useless-key',
    ]);
  });
});
