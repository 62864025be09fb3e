/**
 * Shows what is said, and where, when a package cannot be: each wrong description differs from a sound one in one
 * place, which the message must name. No source: these are rules of this program.
 */
import { describe, expect, test } from 'vitest';
import { facingSide } from '../../src/spec/package.ts';
import { PACKAGE } from './package-keys.ts';
import { changed, type Given, outcomeOf, PLAIN_RING, problemsOf, ringOf } from './sample.ts';

const RING = changed(PLAIN_RING, ['sides:\n', `${PACKAGE}sides:\n`]);
const LAST = '  wires: {diameter: 25}\n';
const more = (key: string): readonly [string, string] => [LAST, `${LAST}  ${key}\n`];
const fingers = (text: string): readonly [string, string] => [
  '{count: 16, pitch: 200, distance: 2000, width: 100}',
  text,
];
const bonds = (text: string) => more(`bonds: {${text}}`);

/** The problem's code, and the text that stands at its place. */
type Case = readonly [what: string, swap: readonly Swap[], code: string, at: string, given?: Given];
type Swap = readonly [string, string];

/** The problems of a description: the code of each and what stands at its place, as far as `length`. */
function told(text: string, length: number, given: Given = {}): readonly string[] {
  const outcome = outcomeOf(text, given);
  if (outcome.ok) return ['none'];
  return outcome.problems.flatMap(({ code, place }) => {
    const file = place?.file === 'ring.yaml' ? text : (given.files?.[place?.file ?? ''] ?? '');
    const line = file.split('\n')[(place?.line ?? 0) - 1] ?? '';
    return [code, line.slice((place?.column ?? 0) - 1).slice(0, length)];
  });
}

const LISTED = (second: string): readonly [string, string] =>
  fingers(
    `\n    - {name: a, x: -2000, y: 200, width: 100, angle: 180}\n    - ${second}\n    - {name: c, x: 0, y: -2000, width: 100, angle: 270}`,
  );
const CSV = 'name,x,y,width,angle\na,-2000,200,100,180\na,-2000,-200,100,180\n';

const CASES: readonly Case[] = [
  [
    'more pads than fingers on a side',
    [
      fingers('{sides: [bottom], count: 16, pitch: 200, distance: 2000, width: 100}'),
      bonds('unbonded: [VDDIO, VSSIO]'),
    ],
    'too-few-fingers',
    '{sides: [bottom]',
  ],
  [
    'more pads than fingers by order',
    [fingers('{count: 4, pitch: 200, distance: 2000, width: 100}'), bonds('by: order')],
    'too-few-fingers',
    '{count: 4,',
  ],
  [
    'more pads than fingers once some are kept free',
    [bonds('free: [1, 2, 3]')],
    'too-few-fingers',
    '{count: 16',
  ],
  [
    'two fingers at one place',
    [
      LISTED('{name: b, x: -2000, y: 160, width: 100, angle: 180}'),
      bonds('unbonded: [A0, A1, VDD, VSS, VDDIO, VSSIO]'),
    ],
    'fingers-at-one-place',
    'b, x: -2000',
  ],
  [
    'two fingers of one name',
    [
      LISTED('{name: a, x: -2000, y: -200, width: 100, angle: 180}'),
      bonds('unbonded: [A0, A1, VDD, VSS, VDDIO, VSSIO]'),
    ],
    'duplicate-name',
    'a, x: -2000, y: -200',
  ],
  [
    'two fingers of one name in a CSV file',
    [fingers('f.csv')],
    'duplicate-name',
    'a,-2000,-200',
    { files: { 'f.csv': CSV } },
  ],
  [
    'a column that is not known',
    [fingers('f.csv')],
    'unknown-column',
    'posx',
    { files: { 'f.csv': 'name,posx\na,1\n' } },
  ],
  ['a table that is not there', [fingers('f.csv')], 'no-such-file', 'f.csv'],
  [
    'a table of fingers whose row lacks a number',
    [fingers('f.csv')],
    'missing-key',
    'a,1,,3,4',
    { files: { 'f.csv': 'name,x,y,width,angle\na,1,,3,4\n' } },
  ],
  [
    'a finger named like the paddle',
    [
      LISTED('{name: paddle, x: -2000, y: -200, width: 100, angle: 180}'),
      bonds('unbonded: [A0, A1, VDD, VSS, VDDIO, VSSIO]'),
    ],
    'reserved-name',
    'paddle, x',
  ],
  ['an unknown finger', [bonds('to: {A0: 17}')], 'unknown-finger', '17}'],
  ['an unknown finger among several', [bonds('to: {A0: [1, x]}')], 'unknown-finger', '[1, x]'],
  ['an unknown finger kept free', [bonds('free: [1, x]')], 'unknown-finger', 'x]'],
  ['an unknown first finger', [bonds('by: order, first: x')], 'unknown-finger', 'x}'],
  [
    'no finger of the name of a pin',
    [bonds('by: names, unbonded: [A1, VDD, VSS, VDDIO, VSSIO]')],
    'unknown-finger',
    '{pin: A0',
  ],
  ['an unknown pin', [bonds('to: {A9: 1}')], 'unknown-pin', 'A9: 1'],
  ['an unknown pin left unbonded', [bonds('unbonded: [A9]')], 'unknown-pin', 'A9]'],
  [
    'a pin without a bond pad left unbonded',
    [['{pin: A0, cell: io_bi}', '{pin: A0, cell: io_bi, bondPad: none}'], bonds('unbonded: [A0]')],
    'unknown-pin',
    'A0]',
  ],
  ['a pin both bonded and not', [bonds('to: {A0: 1}, unbonded: [A0]')], 'either-or', 'A0]'],
  ['a wire to a paddle that is not there', [bonds('to: {VSS: paddle}')], 'no-paddle', 'paddle}'],
  ['a first finger where pins go by sides', [bonds('first: 3')], 'useless-key', 'first:'],
  [
    'free fingers where pins go by names',
    [bonds('by: names, free: [1], unbonded: [A0, A1, VDD, VSS, VDDIO, VSSIO]')],
    'useless-key',
    'free:',
  ],
  [
    'an unknown pin with a current',
    [['diameter: 25', 'diameter: 25, currents: {A9: 1}']],
    'unknown-pin',
    'A9: 1',
  ],
  ['a group of unlike cells', [bonds('to: {A0: 2, VDD: 3}, exchange: [[A0, VDD]]')], 'no-exchange', 'VDD]'],
  [
    'a pin of a group without a finger of its own',
    [bonds('to: {A0: 2}, exchange: [[A0, A1]]')],
    'no-exchange',
    'A1]]',
  ],
  [
    'a pin of a group whose name two pads bear',
    [
      [
        '{pin: VDD, cell: pw_vdd}',
        '{pin: VDD, cell: pw_vdd}\n    - {pin: VDD, cell: pw_vdd}\n    - {pin: VDD2, cell: pw_vdd}',
      ],
      bonds('to: {VDD: [5, 6], VDD2: 7}, exchange: [[VDD2, VDD]]'),
    ],
    'no-exchange',
    'VDD]]',
  ],
  ['a pin twice in a group', [bonds('to: {A0: 2, A1: 3}, exchange: [[A0, A1, A0]]')], 'no-exchange', 'A0]]'],
  [
    'a pin of a group that is fixed',
    [
      ['{pin: A1, cell: io_bi}', '{pin: A1, cell: io_bi, at: 800}'],
      bonds('to: {A0: 2, A1: 3}, exchange: [[A0, A1]]'),
    ],
    'no-exchange',
    'A1]]',
  ],
  [
    'fingers that three sides cannot share',
    [
      fingers('{sides: [left, bottom, right], count: 16, pitch: 200, distance: 2000, width: 100}'),
      bonds('by: order'),
    ],
    'out-of-range',
    '16,',
  ],
  [
    'sides out of order',
    [fingers('{sides: [left, right, bottom, top], count: 16, pitch: 200, distance: 2000, width: 100}')],
    'wrong-order',
    '[left, right',
  ],
  ['rows that meet at the corners', [['pitch: 200', 'pitch: 1400']], 'out-of-range', '2000, width'],
  ['fingers wider than their pitch', [['width: 100}', 'width: 210}']], 'out-of-range', '200, distance'],
  ['two tiers without a distance', [['width: 100}', 'width: 100, tiers: 2}']], 'missing-key', '2}'],
  [
    'a distance of tiers where there is one',
    [['width: 100}', 'width: 100, tierDistance: 9}']],
    'useless-key',
    '9}',
  ],
  [
    'a loop of a tier that is not there',
    [['diameter: 25', 'diameter: 25, loops: [{tier: 2, height: 200}]']],
    'useless-key',
    'tier: 2',
  ],
  [
    'a loop of a row that is not there',
    [['diameter: 25', 'diameter: 25, loops: [{row: inner, height: 200}]']],
    'useless-key',
    'row: inner',
  ],
  [
    'a loop of a paddle that is not there',
    [['diameter: 25', 'diameter: 25, loops: [{tier: 0, height: 200}]']],
    'useless-key',
    'tier: 0',
  ],
  [
    'a drop of a tier that is not there',
    [['diameter: 25', 'diameter: 25, drops: [0, 100]']],
    'useless-key',
    '100]',
  ],
  ['a foot narrower than its wire', [['diameter: 25', 'diameter: 25, foot: 20']], 'out-of-range', '20}'],
  [
    'a least span above the largest',
    [more('limits: {span: {least: 900, most: 800}}')],
    'out-of-range',
    '900, most',
  ],
  [
    'wires that are to pass above each other by less than they are thick',
    [more('limits: {height: 24.9}')],
    'out-of-range',
    '24.9',
  ],
  [
    'a loop lower than its wire is thick',
    [['diameter: 25', 'diameter: 25, loops: [{height: 24.9}]']],
    'out-of-range',
    '24.9',
  ],
  ['a wire thicker than the usual loop is high', [['diameter: 25', 'diameter: 151']], 'out-of-range', '151'],
  ['a wire without a diameter', [['wires: {diameter: 25}', 'wires: {}']], 'missing-key', 'wires: {}'],
];

describe('a package that cannot be', () => {
  for (const [what, swap, code, at, given] of CASES)
    test(what, () => {
      expect(told(changed(RING, ...swap), at.length, given)).toEqual([code, at]);
    });

  test('the description that they differ from is sound', () => {
    expect(problemsOf(RING)).toEqual([]);
  });

  test('a loop of all wires stands in place of the usual one', () => {
    const thick = changed(RING, ['diameter: 25', 'diameter: 151, loops: [{height: 400}]']);
    expect(problemsOf(thick)).toEqual([]);
    expect(ringOf(thick).package?.wires.loops).toEqual([{ row: null, tier: null, height: 400e6 }]);
  });

  test('a misspelt finger comes with the nearest one', () => {
    const outcome = outcomeOf(
      changed(
        RING,
        LISTED('{name: VDDIO7, x: -2000, y: -200, width: 100, angle: 180}'),
        bonds('to: {A0: VDDI07}, unbonded: [A1, VDD, VSS, VDDIO, VSSIO]'),
      ),
    );
    expect(outcome.ok ? [] : outcome.problems.map((p) => p.mend)).toEqual(['did you mean `VDDIO7`?']);
  });

  test('slack toward fingers that are not there', () => {
    expect(told(changed(PLAIN_RING, ['sides:\n', 'slack: toward-fingers\nsides:\n']), 6)).toEqual([
      'missing-key',
      'toward',
    ]);
    expect(problemsOf(changed(RING, ['sides:\n', 'slack: toward-fingers\nsides:\n']))).toEqual([]);
  });
});

describe('generated fingers', () => {
  test('finger 1 is the upper one of the left side, and they run counter-clockwise', () => {
    const places = ringOf(RING).package?.fingers.map((f) => [f.name, f.side, f.x / 1e6, f.y / 1e6]);
    expect(places?.[0]).toEqual(['1', 'left', -2000, 300]);
    expect(places?.[3]).toEqual(['4', 'left', -2000, -300]);
    expect(places?.[4]).toEqual(['5', 'bottom', -300, -2000]);
    expect(places?.[8]).toEqual(['9', 'right', 2000, -300]);
    expect(places?.[12]).toEqual(['13', 'top', 300, 2000]);
    expect(places?.length).toBe(16);
  });

  test('on two sides', () => {
    const text = changed(
      RING,
      fingers('{sides: [left, right], count: 16, pitch: 200, distance: 2000, width: 100}'),
      bonds('by: order'),
    );
    const places = ringOf(text).package?.fingers.map((f) => [f.x / 1e6, f.y / 1e6]);
    expect(places?.[0]).toEqual([-2000, 700]);
    expect(places?.[8]).toEqual([2000, -700]);
  });
});

test('which side of a turned die faces a side of the package', () => {
  expect(facingSide('left', 0)).toBe('left');
  // Turned counter-clockwise by 90, the die's bottom looks to the right.
  expect(facingSide('right', 90)).toBe('bottom');
  expect(facingSide('left', 180)).toBe('right');
  expect(facingSide('top', -90)).toBe('left');
  expect(facingSide('top', 360)).toBe('top');
});
