/**
 * Shows: slips that a third review made. No command takes a file that is not its own for its drawing; an empty name is
 * told as one; what is never closed is told where it opens; every problem says how to mend it. Source: the review; the
 * places are counted in the texts that stand here.
 */
import { spawnSync } from 'node:child_process';
import { copyFileSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { build } from '../../src/commands/build.ts';
import { cells } from '../../src/commands/cells.ts';
import { check } from '../../src/commands/check.ts';
import type { Result } from '../../src/commands/command.ts';
import { diff } from '../../src/commands/diff.ts';
import { init } from '../../src/commands/init.ts';
import { size } from '../../src/commands/size.ts';
import { supplies } from '../../src/commands/supplies.ts';
import { writeNew } from '../../src/commands/write-new.ts';
import { layRing } from '../../src/index.ts';
import { readLef } from '../../src/library/lef/read.ts';
import { namesOfSet } from '../../src/plan/supplies.ts';
import type { Outcome } from '../../src/problems/problem.ts';
import { readCsv } from '../../src/source/csv.ts';
import { readYaml } from '../../src/source/yaml.ts';
import { scratchFolder } from '../helpers/program.ts';

const RING = readFileSync('fixtures/starter/ring.yaml', 'utf8');
const CELLS = readFileSync('fixtures/starter/cells.yaml', 'utf8');
const folder = scratchFolder();
const ring = join(folder, 'ring.yaml');
copyFileSync('fixtures/starter/ring.yaml', ring);
copyFileSync('fixtures/starter/cells.yaml', join(folder, 'cells.yaml'));

/** The codes in what a command prints where it refuses. */
const refused = ({ status, out, err }: Result): readonly string[] => {
  expect([status, out]).toEqual([2, '']);
  return [...err.matchAll(/ \[([\w-]+)\]$/gm)].map(([, code]) => code ?? '');
};

/** A text with one piece exchanged; the piece must be there. */
function swap(text: string, from: string, to: string): string {
  expect(text).toContain(from);
  return text.replace(from, () => to);
}

const problemsOf = (outcome: Outcome<unknown>) => (outcome.ok ? [] : outcome.problems);
const of = (ringText: string, cellText = CELLS) => {
  const outcome = layRing({ 'ring.yaml': ringText, 'cells.yaml': cellText }, 'ring.yaml');
  return outcome.kind === 'laid' ? [] : outcome.problems;
};

describe('a drawing takes no place but its own', () => {
  it('neither a ring description, nor a placement, nor a drawing of another kind, nor a folder', async () => {
    await build(ring, { output: join(folder, 'out') });
    const placement = join(folder, 'out', 'placement.json');
    const kept = [ring, placement, join(folder, 'out', 'ring.svg')];
    const before = kept.map((path) => readFileSync(path, 'utf8'));
    for (const output of kept) {
      expect(refused(await size(ring, { output }))).toEqual(['file-is-there']);
      expect(refused(await diff(placement, placement, { output }))).toEqual(['file-is-there']);
    }
    expect(refused(await size(ring, { output: folder }))).toEqual(['is-a-folder']);
    expect(kept.map((path) => readFileSync(path, 'utf8'))).toEqual(before);
    expect(readdirSync(folder).filter((name) => name.endsWith('.part'))).toEqual([]);
  });

  it('an older one of the same drawing is replaced', async () => {
    const output = join(folder, 'styles.svg');
    expect((await size(ring, { output })).status).toBe(0);
    const first = readFileSync(output, 'utf8');
    writeFileSync(output, `${first}<!-- older -->`);
    expect((await size(ring, { output })).status).toBe(0);
    expect(readFileSync(output, 'utf8')).toBe(first);
  });
});

describe('names that name nothing', () => {
  it('an empty one is told as one, and nothing is written', async () => {
    const empty = [
      await build('', {}),
      await build(ring, { output: '' }),
      await build(ring, { keep: '' }),
      await check('', {}),
      await cells([''], {}),
      await init('', {}),
      await size(ring, { output: '' }),
    ];
    for (const result of empty) expect(refused(result)).toEqual(['no-name']);
    expect(problemsOf(writeNew('', 'text')).map(({ code }) => code)).toEqual(['no-name']);
  });

  it('the folder of the description is a folder, however it is written', () => {
    for (const name of ['./', '.', 'x/..'])
      expect(of(swap(RING, 'cells: cells.yaml', `cells: ${name}`))[0]?.message).toMatch(/^`\.`: /);
  });

  it('a file where a folder is needed', async () => {
    const path = join(ring, 'x');
    expect(refused(await init(path, {}))).toEqual(['cannot-write']);
    expect(problemsOf(writeNew(path, 'text')).map(({ message }) => message)).toEqual([
      'the file cannot be written (a file is in the way of its folder)',
    ]);
  });

  it('a file where `init` wants a folder', async () => {
    expect(refused(await init(ring, {}))).toEqual(['not-a-folder']);
  });
});

describe('a disk without room', () => {
  it('leaves no half file that would stand in the way of the next try', () => {
    // The system ends a file at one block, as a full disk does.
    const { status, stderr } = spawnSync(
      'sh',
      ['-c', 'ulimit -f 1; exec "$@"', 'sh', process.execPath, resolve('dist/cli.js'), 'init', 'full'],
      { cwd: folder, encoding: 'utf8' },
    );
    expect([status, stderr.split('\n')[0]]).toEqual([
      2,
      'full/ring.yaml:1:1: the file cannot be written (the disk has no room) [cannot-write]',
    ]);
    expect(readdirSync(join(folder, 'full'))).toEqual([]);
  });
});

describe('figures beyond reason', () => {
  it('a shrink that no process has', () => {
    expect(of(swap(RING, 'die:', 'shrink: 1e-300\ndie:')).map(({ code }) => code)).toEqual(['out-of-range']);
  });

  it('supply cells that are set are named up to a dozen', () => {
    const set = (count: number) =>
      namesOfSet(
        Array.from({ length: count }, (_, i) => ({
          pin: `V${i}`,
          side: 'left' as const,
          before: { pins: ['A'] },
        })),
      );
    expect(set(2)).toBe('V0 on the left side before A, V1 on the left side before A');
    expect(set(12)).not.toContain('more');
    expect(set(15)).toMatch(/V11 on the left side before A and 3 more$/);
  });
});

describe('fingers at one place', () => {
  /** The problems of the starter ring in a package with a table of fingers. */
  const fingers = (rows: readonly string[]) => {
    const table = `name,x,y,width,angle\n${rows.map((row, i) => `F${i},${row}\n`).join('')}`;
    const pack = 'package: {name: p, fingers: fingers.csv, bonds: {by: order}, wires: {diameter: 20}}\n';
    const files = { 'ring.yaml': `${RING}${pack}`, 'cells.yaml': CELLS, 'fingers.csv': table };
    const outcome = layRing(files, 'ring.yaml');
    return outcome.kind === 'laid' ? [] : outcome.problems;
  };

  it('are told each with one other, so that a table of nothing else is told in full', () => {
    const told = fingers(Array.from({ length: 3000 }, () => '0,2000,60,90'));
    // 2999 of them, 100 told one by one.
    expect(told.at(-1)?.message).toBe('2899 further problems are not listed');
  });

  it('are found among fingers of very different widths, and the later one is told', () => {
    const row = Array.from({ length: 20 }, (_, i) => `${i * 100 - 1000},2000,60,90`);
    const placesOf = (more: readonly string[]) =>
      fingers([...row, ...more]).map(({ code, place }) => [code, place?.line]);
    expect(placesOf(['1050,2000,8000,90'])).toEqual([]);
    // Half of the narrower one's width is 30.
    expect(placesOf(['-970,2000,8000,90'])).toEqual([]);
    expect(placesOf(['-970.001,2000,8000,90'])).toEqual([['fingers-at-one-place', 22]]);
    expect(placesOf(['-999.9,2000,0.3,90', '-999.95,2000,0.2,90'])).toEqual([
      ['fingers-at-one-place', 22],
      ['fingers-at-one-place', 23],
    ]);
  });
});

describe('what a machine reads', () => {
  it('has the notes that a person reads', async () => {
    const path = join(folder, 'doubtful.yaml');
    writeFileSync(path, swap(RING, 'pitch: 70', 'pitch: 1'));
    for (const command of [check, supplies, size]) {
      const { out } = await command(path, { json: true });
      const { notes } = JSON.parse(out);
      expect(notes).toContainEqual(expect.objectContaining({ code: 'doubtful-length' }));
    }
  });
});

describe('options beyond a metre', () => {
  it('are refused as the description refuses them', async () => {
    expect(refused(await size(ring, { stem: '1000001' }))).toEqual(['wrong-option']);
    expect(refused(await size(ring, { die: '1000001x800' }))).toEqual(['wrong-option']);
  });
});

describe('syntax', () => {
  const told = (text: string): readonly string[] =>
    problemsOf(readYaml(text, 'ring.yaml')).map(
      ({ place, message, mend }) => `${place?.line}:${place?.column} ${message}; ${mend}`,
    );

  it('brackets and quotes are told where they open', () => {
    expect(told('s:\n  - {pin: A, cell: io\n  - {pin: B, cell: io}\n')).toEqual([
      '2:5 the `{` here is never closed; close it with `}` where the group ends',
    ]);
    expect(told('a: [1, {b: 2]\nc: 1\n').map((text) => text.slice(0, 13))).toEqual([
      '1:8 the `{` h',
      '1:4 the `[` h',
    ]);
    expect(told('a: {b: 1}\nc: "x\nd: 2\n')).toEqual([
      '2:4 the quotes that open here are never closed; close them with double quotes where the text ends',
    ]);
    expect(told("a: 'x\nd: 2\n")[0]).toMatch(/^1:4 the quotes .* single quotes/);
  });

  it('brackets that close nothing, and what follows from them once', () => {
    expect(told('a: {b: 1}}\nc: 1\nd: 2\n')).toEqual([
      '1:10 the `}` here closes nothing; take it away, or look for a missing `{` before it',
    ]);
  });

  it('lines that are indented less or more than those they belong with', () => {
    expect(told('  a: 1\nb: 2\nc: 3\n').map((text) => text.slice(0, 8))).toEqual(['2:1 what']);
    expect(told('a: 1\n b: 2\n')).toEqual([
      expect.stringMatching(/^1:4 the text that begins here goes on in the next line/),
    ]);
  });

  it('a comma that is missing in brackets', () => {
    expect(told('a: {pin: A cell: B}\n')[0]).toContain('look for a missing comma');
    expect(told('a: ["x" "y"]\n')).toEqual([
      '1:9 a comma is missing between two things in brackets; put one before this',
    ]);
  });

  it('carriage returns alone end lines', () => {
    const text = RING.replaceAll('\n', '\r');
    expect(of(text, CELLS.replaceAll('\n', '\r'))).toEqual([]);
    expect(of(swap(text, 'pitch: 70', 'pich: 70')).map(({ place }) => place?.line)).toContain(
      RING.slice(0, RING.indexOf('pitch: 70')).split('\n').length,
    );
    expect(problemsOf(readCsv('a,b\r1,2\r3\r', 'pins.csv'))[0]?.place?.line).toBe(3);
    const lef = '# a comment\rMACRO a\r SIZE 6 BY 5 ;\rEND a\r';
    expect(problemsOf(readLef(lef, 'io.lef'))).toEqual([]);
    expect(problemsOf(readLef(lef.replace('6', 'x'), 'io.lef'))[0]?.place).toMatchObject({
      line: 3,
      column: 2,
    });
  });

  it('a tag of bytes is no plain data', () => {
    expect(problemsOf(readYaml('a: !!binary x\n', 'ring.yaml')).map(({ code }) => code)).toEqual([
      'yaml-tag',
    ]);
  });

  it('keys that are to be merged', () => {
    const [first, second] = of(swap(RING, 'core:', '<<: {a: 1}\nno: 1\ncore:'));
    expect(first).toMatchObject({ code: 'unknown-key', mend: expect.stringContaining('not merged') });
    expect(second?.mend).toMatch(/^the keys here are/);
  });
});

describe('how to mend it', () => {
  const cell = (from: string, to: string) => of(RING, swap(CELLS, from, to));
  const lef = (text: string) => problemsOf(readLef(text, 'io.lef'));
  const csv = (text: string) => problemsOf(readCsv(text, 'pins.csv'));
  const yaml = (text: string) => problemsOf(readYaml(text, 'ring.yaml'));
  const table = (pins: string) => {
    const text = `${RING.slice(0, RING.indexOf('# The pins of each side'))}pins: pins.csv\n`;
    const outcome = layRing({ 'ring.yaml': text, 'cells.yaml': CELLS, 'pins.csv': pins }, 'ring.yaml');
    return outcome.kind === 'laid' ? [] : outcome.problems;
  };

  it('numbers with a decimal comma, or with a unit', () => {
    const width = (text: string) => of(swap(RING, 'width: 840', `width: ${text}`))[0]?.mend;
    expect(width('"840,5"')).toBe('write it with a decimal point: 840.5');
    expect(width('840um')).toBe('write the number alone, in the unit of this key');
    expect(width('0.84 mm')).toBe('write the number alone, in the unit of this key');
    expect(width('wide')).toMatch(/^it is the die's width/);
  });

  it.each([
    ['yaml-alias', () => yaml('a: *b\n')],
    ['yaml-alias', () => yaml('a: &b [*b]\n')],
    ['yaml-key', () => yaml('[a]: 1\n')],
    ['unsafe-key', () => yaml('__proto__: 1\n')],
    ['too-deep', () => yaml('['.repeat(100))],
    ['too-fine', () => of(swap(RING, 'width: 840', 'width: 840.0000001'))],
    ['strip-extent', () => cell('[[10, 40]]', '[[40, 10]]')],
    ['strips-overlap', () => cell('[[45, 75]]', '[[35, 75]]')],
    ['outside-cell', () => cell('{name: pad, at: 30}', '{name: pad, at: 61}')],
    ['clamp-to-itself', () => cell('{supply: VDD, ground: VSS}', '{supply: VDD, ground: VDD}')],
    ['csv-empty', () => csv('\n\n')],
    ['csv-header', () => csv('side,,cell\na,b,c\n')],
    ['duplicate-key', () => csv('side,side\na,b\n')],
    ['missing-column', () => table('side,pin\nleft,A\n')],
    ['csv-ragged', () => csv('side,cell\na\n')],
    ['no-header', () => table('left,A,io\n')],
    ['no-header', () => table('side|pin|cell\nleft|A|io\n')],
    ['lef-empty', () => lef('# nothing\n')],
    ['lef-number', () => lef('MACRO a\n SIZE x BY 5 ;\nEND a')],
    ['lef-syntax', () => lef('MACRO a\n SIZE 0 BY 5 ;\nEND a')],
    ['lef-syntax', () => lef('MACRO a\n SIZE 6 BY 5\nEND a')],
    ['lef-syntax', () => lef('MACRO a\n SIZE 6 BY 5 ;\n')],
    ['lef-syntax', () => lef('END\n')],
  ] as const)('%s', (code, problems) => {
    const told = problems();
    expect(told.map((one) => one.code)).toContain(code);
    for (const one of told) expect(one).toMatchObject({ mend: expect.any(String), place: expect.anything() });
  });
});
