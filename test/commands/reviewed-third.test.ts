/**
 * Shows: slips that a third review made. No command takes a file that is not its own for its drawing; an empty name is
 * told as one; a disk without room leaves no half file; machines get what people read. Source: the review; the starter
 * ring (fixtures/starter).
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
import { namesOfSet } from '../../src/plan/supplies.ts';
import { ringSvg } from '../../src/write/ring-svg.ts';
import { scratchFolder } from '../helpers/program.ts';
import { against, CELLS, problemsOf, RING, swap } from '../helpers/starter.ts';

const folder = scratchFolder();
const ring = join(folder, 'ring.yaml');
copyFileSync('fixtures/starter/ring.yaml', ring);
copyFileSync('fixtures/starter/cells.yaml', join(folder, 'cells.yaml'));

/** The codes in what a command prints where it refuses. */
const refused = ({ status, out, err }: Result): readonly string[] => {
  expect([status, out]).toEqual([2, '']);
  return [...err.matchAll(/ \[([\w-]+)\]$/gm)].map(([, code]) => code ?? '');
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
      expect(against(swap(RING, 'cells: cells.yaml', `cells: ${name}`))[0]?.message).toMatch(/^`\.`: /);
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
    expect(against(swap(RING, 'die:', 'shrink: 1e-300\ndie:')).map(({ code }) => code)).toEqual([
      'out-of-range',
    ]);
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

describe('a rule that is broken thousands of times', () => {
  it('is ringed in the drawing as often as can be seen, the gravest first', () => {
    const laid = layRing({ 'ring.yaml': RING, 'cells.yaml': CELLS }, 'ring.yaml');
    if (laid.kind !== 'laid') throw new Error('the starter ring is laid');
    const findings = Array.from({ length: 5000 }, (_, i) => ({
      rule: 'pins-apart',
      severity: i < 4000 ? ('note' as const) : ('error' as const),
      message: `finding ${i}`,
      items: [],
      x: 95,
      y: i / 10,
    }));
    const svg = ringSvg({ ...laid.placement, findings });
    const ringed = new Set([...svg.matchAll(/data-finding="(\d+)"/g)].map(([, number]) => Number(number)));
    // Numbers go by weight, so the first thousand are the errors.
    expect(ringed).toEqual(new Set(Array.from({ length: 2000 }, (_, i) => i + 1)));
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

describe('a call that asks for two things', () => {
  it('stems of one width in the description and of another in the call', async () => {
    expect(refused(await size(ring, { stem: '12' }))).toEqual(['useless-option']);
  });

  it('the list of rules, and a file to be judged', async () => {
    expect(refused(await check(ring, { rules: true }))).toEqual(['wrong-call']);
    expect((await check(undefined, { rules: true })).status).toBe(0);
  });
});

describe('options beyond a metre', () => {
  it('are refused as the description refuses them', async () => {
    expect(refused(await size(ring, { stem: '1000001' }))).toEqual(['wrong-option']);
    expect(refused(await size(ring, { die: '1000001x800' }))).toEqual(['wrong-option']);
  });
});
