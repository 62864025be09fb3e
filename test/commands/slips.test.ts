/**
 * Shows: slips that a review made are told once, where they are, with what would be right: files of another kind, units
 * taken for others, tables without rows, limits that contradict each other. Source: the review; the numbers are the
 * starter ring's (fixtures/starter), counted in its text.
 */
import { describe, expect, it, test } from 'vitest';
import { MOST_CELLS } from '../../src/fit/count.ts';
import { layRing } from '../../src/index.ts';
import { problemText } from '../../src/problems/problem.ts';
import { CELLS, RING, swap } from '../helpers/starter.ts';

const run = (ring: string, cells = CELLS, more: Readonly<Record<string, string>> = {}) =>
  layRing({ 'ring.yaml': ring, 'cells.yaml': cells, ...more }, 'ring.yaml');

/** What stands against a ring as it is printed, the notes left out. */
function told(...args: Parameters<typeof run>): readonly string[] {
  const outcome = run(...args);
  if (outcome.kind !== 'laid') return outcome.problems.map(problemText);
  return outcome.placement.findings.map(
    (f) => `${f.severity}: ${f.message} [${f.rule}] (${f.items.join(', ')})`,
  );
}

describe('files of another kind', () => {
  it('a cell file given as description, and a description given as cell file', () => {
    expect(told(CELLS)).toEqual([
      'ring.yaml:5:1: ring.yaml seems to be no ring description: it has of its keys only `cells`, but `name`, `drawn`, `lanes` [other-file]\n' +
        '    a ring description has `ring`, `cells`, `edge`, `bondPads`, `sections` and its pins; `ringwright init` writes one',
    ]);
    expect(told(RING, RING).map((text) => text.split('\n')[0])).toEqual([
      'cells.yaml:4:1: cells.yaml seems to be no cell file: it has of its keys only `cells`, but `ring`, `die`, `edge` and 7 more [other-file]',
    ]);
  });

  it('a text that is no YAML: the first errors, and how many more', () => {
    const lines = Array.from({ length: 40 }, (_, i) => `${i}) "quoted" text: with: colons\n`).join('');
    const problems = told(lines);
    expect(problems.length).toBeLessThanOrEqual(7);
    expect(problems.at(-1)).toMatch(/^ring\.yaml:\d+:\d+: \d+ further errors of syntax/);
  });

  it('a named file that is not there: told where it is named', () => {
    expect(told(swap(RING, 'cells: cells.yaml', 'cells: cels.yaml'))).toEqual([
      'ring.yaml:5:8: `cels.yaml`: there is no such file [no-such-file]\n    known: ring.yaml, cells.yaml',
    ]);
  });
});

describe('tables', () => {
  const head = `${RING.slice(0, RING.indexOf('# The pins of each side'))}pins: pins.csv\n`;
  const rows = [...RING.matchAll(/^ {2}(\w+):$|\{pin: (\w+), cell: (\w+)/gm)];

  it('a header alone', () => {
    expect(told(head, CELLS, { 'pins.csv': 'side,pin,cell\n' })).toEqual([
      'pins.csv:1:1: the pin list has a header and no rows [csv-no-rows]\n    add a row a cell below the header',
    ]);
  });

  it('a first line that says what parts the cells', () => {
    let side = '';
    const table = rows.flatMap(([, named, pin, cell]) => {
      side = named ?? side;
      return named === undefined ? [`${side};${pin};${cell}`] : [];
    });
    const text = `side;pin;cell\r\n${table.join('\r\n')}\r\n`;
    const plain = run(head, CELLS, { 'pins.csv': text });
    expect(plain.kind).toBe('laid');
    expect(run(head, CELLS, { 'pins.csv': `sep=;\r\n${text}` })).toEqual(plain);
    expect(told(head, CELLS, { 'pins.csv': `sep=;\n${text.replace('input', 'inputt')}` })[0]).toMatch(
      /^pins\.csv:3:\d+: .*`inputt`/,
    );
    expect(told(head, CELLS, { 'pins.csv': `sep=|\n${text}` })).toEqual([
      'pins.csv:1:1: the first line says that `|` parts the cells [csv-separator]\n' +
        '    save the table with a comma, a semicolon or a tab between its cells',
    ]);
  });

  it('an order of more cells than are cut into sides', () => {
    const free = `${head.slice(0, head.indexOf('pins: '))}order: {pins: pins.csv}\n`.replace(
      /^die: .*$/m,
      'die: fit',
    );
    const table = `pin,cell\n${Array.from({ length: 1001 }, (_, i) => `P${i},io\n`).join('')}`;
    expect(told(free, CELLS, { 'pins.csv': table })[0]).toMatch(
      /^ring\.yaml:\d+:1: the order has 1001 cells; at most 1000 are cut into sides \[order-too-long\]/,
    );
  });

  it('more rows than are read, also with line ends of old', () => {
    for (const end of ['\n', '\r'])
      expect(
        told(head, CELLS, { 'pins.csv': `side,pin,cell${end}${`left,A,io${end}`.repeat(60_000)}` })[0],
      ).toMatch(/the table has more than 40000 rows, which is more than is read \[too-many-values\]/);
  });
});

describe('sizes', () => {
  it('a die of a metre is refused before it is placed', () => {
    const outcome = run(swap(RING, /^die: .*$/m, 'die: {width: 1000000, height: 1000000}'));
    expect(outcome.kind).toBe('impossible');
    const [first = ''] = outcome.kind === 'impossible' ? outcome.problems.map(problemText) : [];
    // 4 x (1 000 000 - 2 x 255) um less sixteen cells of 60 um, twenty a filler.
    expect(first).toMatch(
      /^ring\.yaml:7:6: the ring would have 1998\d\d cells or more, 1998\d\d of them fillers/,
    );
    expect(first).toContain(`at most ${MOST_CELLS} are laid [too-many-cells]`);
  });

  it('a die that comes out larger than a metre', () => {
    const free = swap(RING, /^die: .*$/m, 'die: fit');
    const few = swap(CELLS, 'fill_20: {role: filler, width: 20', 'fill_20: {role: filler, width: 20000');
    expect(told(swap(free, 'seal: 10', 'seal: 999990'), few)[0]).toMatch(
      /^ring\.yaml:7:6: the die would be 20\d{5}(\.\d+)? by 20\d{5}(\.\d+)? um, more than a metre \[die-too-large\]/,
    );
  });

  it('many narrow fillers beside a wide one are counted as they would stand', () => {
    const narrow = swap(
      CELLS,
      / {2}fill_20: [\s\S]*$/,
      '  fill_500: {role: filler, width: 500, height: 120, standsAlone: false}\n' +
        '  fill_0: {role: filler, width: 0.005, height: 120}\n',
    );
    // 20 cells, and of 260 and 220 um a side what the pins leave, with nothing to fill it but steps of the grid.
    expect(told(swap(RING, /^die: .*$/m, 'die: {width: 1500, height: 1500}'), narrow)[0]).toMatch(
      /the ring would have \d{6} cells or more, \d{6} of them fillers; at most 60000 are laid \[too-many-cells\]/,
    );
  });

  it('fillers that share no step worth the name', () => {
    const fine = swap(CELLS, / {2}fill_5: .*\n/, '  fill_5: {role: filler, width: 5.00001, height: 120}\n');
    expect(told(swap(RING, 'ring: starter', 'ring: starter\ngrid: 0.00001'), fine)).toEqual([
      'ring.yaml:6:8: the filler `fill_5`, 5.00001 wide, and those before it share no step coarser than 0.00001, which is less than a millionth of `fill_20`, 20 wide [fillers-too-fine]\n' +
        '    leave it out of `fillers`, or draw it on the grid of the others',
    ]);
  });

  it('openings nearer to the seal ring than they must be far', () => {
    expect(
      told(swap(RING, '  openingInset: 3', '  openingToSeal: {least: 5, most: 4.5}\n  openingInset: 3')),
    ).toEqual([
      'ring.yaml:20:35: openings may be at most 4.5 from the seal ring, and must be at least 5 [out-of-range]\n' +
        '    raise the one or lower the other; lengths are in micrometres',
    ]);
  });

  it('a given die in which the rows of two sides meet', () => {
    const deep = swap(
      CELLS,
      'input: {role: signal, width: 60, height: 120',
      'input: {role: signal, width: 60, height: 1500',
    );
    expect(told(RING, deep)).toEqual([
      'ring.yaml:7:6: the cells of the left side reach 1635 um inward and those of the right side 1635 um, but the die has a width of 840 um: they overlap by 2430 um [rows-meet]\n' +
        '    make the width of `die` 3270 um or more, or say "die: fit"; lengths are in micrometres',
    ]);
  });

  test.each([
    [20, 0],
    [20.005, 1],
  ])('a shift of %d um, where a pad of 60 um has a stem of 20 um', (shift, wrong) => {
    const text = swap(RING, '{pin: RESET_N, cell: input}', `{pin: RESET_N, cell: input, shift: ${shift}}`);
    const problems = told(text).filter((one) => one.includes('shift'));
    expect(problems).toHaveLength(wrong);
    if (wrong === 1) expect(problems[0]).toContain('shift it by at most 20 um');
  });

  it('an empty side', () => {
    expect(told(swap(RING, /^ {2}top:\n(?: {4}.*\n)+/m, '  top:\n'))).toEqual([
      expect.stringMatching(
        /`sides\.top` must be a list, but is empty .*\n {4}an empty one is written `top: \[\]`$/,
      ),
    ]);
  });
});

describe('cells', () => {
  const filler = 'fill_5: {role: filler, width: 5, height: 120';

  it('a count per section that cannot be is found when the cell file is read', () => {
    const text = swap(
      CELLS,
      'height: 120, landings: [{name: pad, at: 30}]}',
      'height: 120, landings: [{name: pad, at: 30}], perSection: {least: 3, most: 1}}',
    );
    const outcome = run(RING, text);
    expect(outcome.kind).toBe('unreadable');
    expect(told(RING, text)).toEqual([
      expect.stringMatching(
        /^cells\.yaml:\d+:\d+: `cells\.io\.perSection\.most` must be no less than its `least` \[out-of-range\]$/,
      ),
    ]);
  });

  describe('a filler deeper than the corner cell', () => {
    const deep = (height: number): string =>
      swap(CELLS, /^ {2}fill_20:/m, `  fill_10: {role: filler, width: 10, height: ${height}}\n  fill_20:`);
    const noteOf = (outcome: ReturnType<typeof run>): readonly string[] =>
      outcome.kind === 'unreadable' ? [] : outcome.notes.map(problemText);

    it('is left out of use, with a note where the cell file or the filler is named; the others suffice', () => {
      const plain = run(RING);
      const outcome = run(RING, deep(130));
      if (plain.kind !== 'laid' || outcome.kind !== 'laid') throw new Error('not laid');
      expect(outcome.placement).toEqual(plain.placement);
      expect(noteOf(outcome)).toEqual([
        'ring.yaml:5:8: the filler `fill_10` reaches 130 um inward, deeper than the corner cell `corner` (120 by 120 um): it is not used [filler-left-out]\n' +
          '    take a corner cell as large as the fillers are deep, or leave the filler out of `fillers`',
      ]);
      const listed = run(
        swap(RING, 'style: inline', 'fillers: [fill_20, fill_10, fill_1]\nstyle: inline'),
        deep(130),
      );
      expect(listed.kind).toBe('laid');
      expect(noteOf(listed)[0]).toMatch(/^ring\.yaml:11:20: /);
    });

    it('is named where the others do not suffice', () => {
      const outcome = run(swap(RING, 'style: inline', 'fillers: [fill_10]\nstyle: inline'), deep(130));
      expect(outcome.kind).toBe('impossible');
      expect(noteOf(outcome)[0]).toContain('`fill_10` reaches 130 um inward');
    });

    it('is spared where it is deeper one way only and another fills what it fills, and else kept', () => {
      const wide = swap(deep(130), 'corner: {role: corner, width: 120', 'corner: {role: corner, width: 140');
      expect(noteOf(run(RING, wide))).toHaveLength(1);
      const alone = swap(RING, 'style: inline', 'fillers: [fill_10]\nstyle: inline');
      expect(noteOf(run(alone, wide))).toEqual([]);
    });

    it('as deep as the corner cell is used', () => {
      const outcome = run(RING, deep(120));
      if (outcome.kind !== 'laid') throw new Error('not laid');
      expect(outcome.placement.cells.some((cell) => cell.footprint === 'fill_10')).toBe(true);
    });
  });

  it('a turn that is not allowed: one finding a footprint and turn, with how many cells', () => {
    const text = swap(CELLS, filler, `${filler}, turns: {plain: [0]}`);
    const outcome = run(RING, text);
    if (outcome.kind !== 'laid') throw new Error('not laid');
    const { cells, findings } = outcome.placement;
    const turned = [90, 180, 270].map(
      (turn) => cells.filter((c) => c.footprint === 'fill_5' && c.rotation === turn).length,
    );
    expect(Math.min(...turned)).toBeGreaterThan(1);
    expect(findings.map((f) => [f.rule, f.items, /as (\d+) cells are/.exec(f.message)?.[1]]).sort()).toEqual(
      turned.map((count) => ['turn-not-allowed', ['fill_5'], String(count)]).sort(),
    );
  });

  it('a landing that feeds two nets is one short, told once', () => {
    const text = swap(CELLS, 'feeds: [VDD]', 'feeds: [VDD, VSS]');
    expect(told(RING, text).filter((one) => one.includes('[tie]'))).toHaveLength(1);
  });

  it('a library without a lane', () => {
    const text = CELLS.replace(/^lanes:\n(?: {2}.*\n)+/m, '');
    expect(told(RING, text)[0]).toMatch(/no cell carries a lane: give `lanes` with their `strips`/);
  });

  test.each(['5e-324', '1e300', '0', '-1'])('a rating of %s', (rating) => {
    const text = swap(CELLS, 'vssio: {role: supply,', `vssio: {role: supply, rating: ${rating},`);
    const outcome = run(RING, text);
    expect(outcome.kind).toBe('unreadable');
    expect(told(RING, text)).toHaveLength(1);
  });
});
