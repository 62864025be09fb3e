/**
 * Shows: what a user can write wrong in `electrical` is told with its place and how to mend it: a current without a
 * rating, a clamp missing in a section, a budget of zero, units a thousand off, keys that cannot act.
 * Source: our own rules; the ranges of the suspicions are common practice, no source.
 */
import { describe, expect, test } from 'vitest';
import { problemText } from '../../src/problems/problem.ts';
import { laidOf, runOf, withBlock } from './sample.ts';

const RING = 'fixtures/starter/ring.yaml';

/** The starter with a block, and its cell file with what a test adds. */
function told(block: string, cells: (text: string) => string = (text) => text) {
  const outcome = runOf(RING, { 'ring.yaml': withBlock(block), 'cells.yaml': cells });
  const problems = outcome.kind === 'laid' ? [] : outcome.problems;
  const notes = outcome.kind === 'unreadable' ? [] : outcome.notes;
  return { outcome, problems, notes };
}
const codes = (block: string, cells?: (text: string) => string): readonly string[] =>
  told(block, cells).problems.map((problem) => problem.code);
const noteCodes = (block: string, cells?: (text: string) => string): readonly string[] =>
  told(block, cells).notes.map((note) => note.code);

/** Metal that is known, for demands that need it. */
const metal = (text: string): string =>
  `${text}\nlayers:\n  M4: {sheetResistance: 0.08, currentLimits: [{celsius: 110, perMicrometre: 2}]}\n  M5: {sheetResistance: 0.04}\ndrives: {supply: VDDIO, ground: VSSIO}\n`;

describe('errors', () => {
  test('a core current without a rating and without wires', () => {
    const { problems } = told('electrical:\n  core: {vdd: 40}\n', (text) =>
      text.replaceAll(/ +rating: .*\n/g, ''),
    );
    expect(problems.map((problem) => problem.code)).toEqual(['current-without-rating']);
    const [text = ''] = problems.map(problemText);
    expect(text).toMatch(
      /ring\.yaml:\d+:\d+: a current of `vdd` is given, but its supply cell `vdd` has no `rating`/,
    );
    expect(text).toContain('add `rating:` to the cell in the cell file, or `wires:` here');
  });

  test.each([
    ['noise: {main: 0}', 'noise'],
    ['drop: 0', 'drop'],
    ['discharge: {level: 2000, rail: 0}', 'rail'],
    ['core: {vdd: 0}', 'vdd'],
    ['decoupling: {chip: 0}', 'chip'],
  ])('a budget or current of zero: %s', (key, name) => {
    const { problems } = told(`electrical:\n  ${key}\n`);
    expect(problems.length).toBeGreaterThan(0);
    expect(problems.map(problemText).join('\n')).toContain(name);
    expect(problems[0]?.place?.line).toBeGreaterThan(40);
  });

  test.each([
    ['an unknown net', 'core: {vddd: 40}', 'unknown-net', 'did you mean `vdd`?'],
    ['a ground as core net', 'core: {vss: 40}', 'unknown-net', ''],
    ['an unknown pin', 'outputs: {bus: {pins: [D9], current: 2}}', 'unknown-pin', 'did you mean'],
    ['a supply pin as output', 'outputs: {bus: {pins: [VDD], current: 2}}', 'no-output', ''],
    [
      'a pin in two groups',
      'outputs: {a: {pins: [D0], current: 2}, b: {pins: [D0], current: 2}}',
      'pin-twice',
      '',
    ],
    [
      'an unknown section',
      'wires: {diameter: 25, length: 2000}\n  outputs: {bus: {pins: [D0], slope: 20}}\n  noise: {mian: 0.4}',
      'unknown-section',
      'did you mean `main`?',
    ],
    [
      'an unknown group',
      'wires: {diameter: 25, length: 2000}\n  outputs: {bus: {pins: [D0], slope: 20}}\n  together: [[bus, buss]]\n  noise: 0.4',
      'unknown-output',
      'did you mean `bus`?',
    ],
    [
      'a lane of no section',
      'wires: {diameter: 25, length: 2000}\n  core: {vdd: 40}\n  supplies: {cells: {VDX: vdd}}',
      'unknown-lane',
      'did you mean',
    ],
    [
      'a cell that feeds another lane',
      'wires: {diameter: 25, length: 2000}\n  core: {vdd: 40}\n  supplies: {cells: {VDD: vss}}',
      'no-supply-cell',
      '',
    ],
  ])('%s', (_, keys, code, mend) => {
    const { problems } = told(`electrical:\n  ${keys}\n`, metal);
    expect(problems.map((problem) => problem.code)).toEqual([code]);
    expect(problems.map(problemText).join('\n')).toContain(mend);
  });

  test('an output whose section has two pairs, and nothing says which it works on', () => {
    const { problems } = told('electrical:\n  outputs: {bus: {pins: [D0], current: 2}}\n', (text) =>
      metal(text).replace(/^drives: .*\n/m, ''),
    );
    expect(problems.map((problem) => problem.code)).toEqual(['unknown-pair']);
    expect(problems.map(problemText).join('\n')).toContain('drives: {supply: …, ground: …}');
  });

  test.each([
    ['an empty block', '{}', 1],
    ['wires with nothing to count', '\n  wires: {diameter: 25, length: 2000}', 1],
    [
      'a temperature without limits',
      '\n  wires: {diameter: 25, length: 2000}\n  core: {vdd: 40}\n  celsius: 85',
      1,
    ],
    ['a noise budget without wires', '\n  outputs: {bus: {pins: [D0], slope: 20}}\n  noise: 0.4', 1],
    ['a slope without a noise budget', '\n  outputs: {bus: {pins: [D0], slope: 20}}', 1],
    [
      'an edge beside a slope',
      '\n  wires: {diameter: 25, length: 2000}\n  outputs: {bus: {pins: [D0], slope: 20, load: 10, swing: 3, edge: 2}}\n  noise: 0.4',
      1,
    ],
    ['a shape without an edge', '\n  outputs: {bus: {pins: [D0], current: 2, shape: gaussian}}', 1],
    ['a load without a swing', '\n  outputs: {bus: {pins: [D0], current: 2, load: 10}}', 2],
    ['a discharge without a budget', '\n  discharge: {level: 2000}', 2],
    [
      'decoupling without loads',
      '\n  wires: {diameter: 25, length: 2000}\n  core: {vdd: 40}\n  decoupling: {chip: 0.1}',
      1,
    ],
    ['a drop budget without metal', '\n  core: {vdd: 40}\n  drop: 0.05', 1],
    ['supplies to set with nothing that asks', '\n  supplies: auto', 1],
  ])('a key that cannot act: %s', (_, keys, count) => {
    const drives = (text: string): string => `${text}\ndrives: {supply: VDDIO, ground: VSSIO}\n`;
    expect(codes(`electrical: ${keys}\n`, drives)).toEqual(Array(count).fill('useless-key'));
  });
});

test.each([
  ['where the metal is known', metal],
  [
    'where it is not',
    (text: string) =>
      `${text}\nlayers:\n  M5: {sheetResistance: 0.04}\ndrives: {supply: VDDIO, ground: VSSIO}\n`,
  ],
])('a clamp missing in a section is an error of the ring and of the discharge paths: %s', (_, known) => {
  const noClamps = (text: string): string => known(text).replaceAll(/ +clamps: .*\n/g, '');
  const placement = laidOf(RING, {
    'ring.yaml': withBlock('electrical:\n  discharge: {level: 2000, rail: 10}\n'),
    'cells.yaml': noClamps,
  });
  const rules = placement.findings.filter((f) => f.severity === 'error').map((f) => f.rule);
  expect(rules).toContain('clamp-missing');
  expect(rules).toContain('discharge-path');
});

describe('units a thousand off: a warning that states the suspicion', () => {
  const wires = 'wires: {diameter: 25, length: 2000}';
  test.each([
    [
      'a core current in ampere',
      'core: {vdd: 0.04}\n  wires: {diameter: 25, length: 2000}',
      /if 0\.04 was meant in A, write 40/,
    ],
    [
      'a core current in microampere',
      'core: {vdd: 40000}\n  wires: {diameter: 25, length: 2000}',
      /if 40000 was meant in uA, write 40/,
    ],
    [
      'a noise budget in millivolt',
      `${wires}\n  outputs: {bus: {pins: [D0], slope: 20}}\n  noise: 400`,
      /if 400 was meant in mV, write 0\.4/,
    ],
    ['a drop budget in millivolt', 'core: {vdd: 40}\n  drop: 50', /if 50 was meant in mV, write 0\.05/],
    ['a level in kilovolt', 'discharge: {level: 2, rail: 10}', /if 2 was meant in kV, write 2000/],
    [
      'a load in femtofarad',
      `${wires}\n  outputs: {bus: {pins: [D0], load: 15000, swing: 3.3, edge: 2}}\n  noise: 0.4`,
      /if 15000 was meant in fF, write 15/,
    ],
    [
      'an edge in picoseconds',
      `${wires}\n  outputs: {bus: {pins: [D0], load: 15, swing: 3.3, edge: 2000}}\n  noise: 0.4`,
      /if 2000 was meant in ps, write 2/,
    ],
    [
      'a wire in millimetres',
      'core: {vdd: 40}\n  wires: {diameter: 25, length: 2}',
      /if 2 was meant in mm, write 2000/,
    ],
  ])('%s', (_, keys, mend) => {
    const { notes } = told(`electrical:\n  ${keys}\n`, metal);
    const doubts = notes.filter((note) => note.code === 'doubtful-figure');
    expect(doubts.length).toBe(1);
    expect(doubts[0]?.mend).toMatch(mend);
  });

  test("a cell's rating in ampere", () => {
    const cells = (text: string): string => metal(text).replace(/^ {2}vdd:\n/m, '  vdd:\n    rating: 0.06\n');
    expect(
      noteCodes('electrical:\n  core: {vdd: 40}\n  wires: {diameter: 25, length: 2000}\n', cells),
    ).toContain('doubtful-figure');
  });

  test('figures as they should be raise no doubt', () => {
    const block = `electrical:\n  ${wires}\n  core: {vdd: 40}\n  outputs: {bus: {pins: [D0], slope: 20}}\n  noise: 0.4\n  drop: 0.05\n`;
    expect(noteCodes(block, metal)).not.toContain('doubtful-figure');
  });
});
