/**
 * The output folder: whole sets, killed runs, two rings at once, full disks and forbidden folders. Source: the
 * project's own promise (placement-file.md, last paragraph); the errors are those of POSIX.
 */
import { spawnSync } from 'node:child_process';
import {
  chmodSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { writeSet } from '../../src/write/folder.ts';
import { checkSet } from '../../src/write/sets.ts';
import { bundleFolder, ended, killRuns, listed, marks, RUNS, startBoth } from './kills.ts';

const KILLS = 60;

let room = '';
let bundle = '';
let dir = '';

beforeAll(async () => {
  room = mkdtempSync(join(tmpdir(), 'ringwright-folder-'));
  chmodSync(room, 0o755);
  bundle = join(room, 'folder.mjs');
  await bundleFolder(bundle);
});
afterAll(() => rmSync(room, { recursive: true, force: true }));
beforeEach(() => {
  dir = mkdtempSync(join(room, 'out-'));
});

const set = (mark: string, ...names: string[]) => new Map(names.map((name) => [name, `${mark} ${name}\n`]));

describe('a set in its folder', () => {
  it('is complete once written, and has the same bytes every time', () => {
    expect(checkSet(dir)).toMatchObject({ state: 'absent', amiss: [] });
    const files = set('one', 'ring.svg', 'placement.json');
    expect(writeSet(dir, files)).toMatchObject({ ok: true, value: 2 });
    expect(listed(dir)).toEqual(['manifest.json', 'placement.json', 'ring.svg']);
    expect(checkSet(dir)).toMatchObject({ state: 'complete', amiss: [] });
    const manifest = readFileSync(join(dir, 'manifest.json'), 'utf8');
    writeSet(dir, new Map([...files].reverse()));
    expect(readFileSync(join(dir, 'manifest.json'), 'utf8')).toBe(manifest);
    expect(JSON.parse(manifest)).toMatchObject({
      format: 'ringwright-manifest',
      version: 1,
      files: { 'ring.svg': { size: 13 } },
    });
  });

  it('makes the folder, with those above it', () => {
    const deep = join(dir, 'a', 'b');
    expect(writeSet(deep, set('x', 'ring.svg')).ok).toBe(true);
    expect(checkSet(deep).state).toBe('complete');
  });

  it('takes away what an earlier set had beyond it, but nothing that somebody has changed or added', () => {
    writeSet(dir, set('one', 'ring.svg', 'names-left.svg', 'names-top.svg'));
    writeFileSync(join(dir, 'names-top.svg'), 'my own notes');
    writeFileSync(join(dir, 'mine.txt'), 'mine');
    writeSet(dir, set('two', 'ring.svg'));
    expect(listed(dir)).toEqual(['manifest.json', 'mine.txt', 'names-top.svg', 'ring.svg']);
    expect(checkSet(dir).state).toBe('complete');
  });

  it('is mixed when a file is of another set, cut short or gone, and the next run mends it', () => {
    const files = set('one', 'ring.svg', 'placement.json');
    for (const harm of [
      () => writeFileSync(join(dir, 'ring.svg'), 'two ring.svg\n'),
      () => writeFileSync(join(dir, 'ring.svg'), 'one'),
      () => rmSync(join(dir, 'ring.svg')),
    ]) {
      writeSet(dir, files);
      harm();
      expect(checkSet(dir)).toMatchObject({ state: 'mixed', amiss: ['ring.svg'] });
    }
    writeSet(dir, files);
    expect(checkSet(dir).state).toBe('complete');
  });

  it('lets no manifest reach out of the folder', () => {
    const victim = join(room, 'victim.txt');
    writeFileSync(victim, 'one ring.svg\n');
    writeSet(dir, set('one', 'ring.svg'));
    const manifest = readFileSync(join(dir, 'manifest.json'), 'utf8');
    writeFileSync(join(dir, 'manifest.json'), manifest.replace('"ring.svg"', '"../victim.txt"'));
    writeSet(dir, set('two', 'placement.json'));
    expect(existsSync(victim)).toBe(true);
    expect(writeSet(dir, set('x', '../ring.svg'))).toMatchObject({
      ok: false,
      problems: [{ code: 'bad-file-name' }],
    });
  });
});

describe('files of somebody else', () => {
  const codes = (outcome: ReturnType<typeof writeSet>) =>
    outcome.ok ? [] : outcome.problems.map(({ code }) => code);

  it('are never overwritten where no manifest lists them, and nothing else is written', () => {
    writeFileSync(join(dir, 'ring.svg'), 'drawn by hand');
    const files = set('one', 'placement.json', 'ring.svg');
    const refused = writeSet(dir, files);
    expect(codes(refused)).toEqual(['file-in-the-way']);
    expect(refused).toMatchObject({
      problems: [
        {
          message: `${join(dir, 'ring.svg')} is there already, and no manifest says that this program wrote it`,
          mend: 'choose another output folder, or move it away',
        },
      ],
    });
    expect(listed(dir)).toEqual(['ring.svg']);
    expect(readFileSync(join(dir, 'ring.svg'), 'utf8')).toBe('drawn by hand');
    rmSync(join(dir, 'ring.svg'));
    expect(writeSet(dir, files).ok).toBe(true);
    // One that came beside the set later is not the set's either.
    writeFileSync(join(dir, 'detail.svg'), 'mine');
    expect(codes(writeSet(dir, set('two', 'ring.svg', 'detail.svg')))).toEqual(['file-in-the-way']);
    expect(checkSet(dir).state).toBe('complete');
  });

  it('are the set\u2019s where they are what it would write, or where its manifest lists them', () => {
    const files = set('one', 'ring.svg');
    writeSet(dir, files);
    rmSync(join(dir, 'manifest.json'));
    expect(writeSet(dir, files).ok).toBe(true);
    writeFileSync(join(dir, 'ring.svg'), 'another run, another set');
    expect(writeSet(dir, set('two', 'ring.svg')).ok).toBe(true);
    expect(checkSet(dir).state).toBe('complete');
  });

  it('are told from those that a killed first run has put there', () => {
    // A first run that was killed in the midst leaves its list under a temporary name, and some files in place.
    const other = join(room, 'other');
    writeSet(other, set('one', 'placement.json', 'ring.svg'));
    const manifest = readFileSync(join(other, 'manifest.json'), 'utf8');
    writeFileSync(join(dir, '.ringwright-999999999-0123456789ab.manifest.json.part'), manifest);
    writeFileSync(join(dir, 'placement.json'), 'one placement.json\n');
    writeFileSync(join(dir, '.ringwright-999999999-0123456789ab.ring.svg.part'), 'one ri');
    expect(checkSet(dir).state).toBe('mixed');
    expect(writeSet(dir, set('two', 'placement.json', 'ring.svg')).ok).toBe(true);
    expect(checkSet(dir)).toMatchObject({ state: 'complete', amiss: [] });
    expect(listed(dir)).toEqual(['manifest.json', 'placement.json', 'ring.svg']);
  });
});

describe('what stands in the way', () => {
  const problem = (outcome: ReturnType<typeof writeSet>) => (outcome.ok ? undefined : outcome.problems);

  it('is told in one problem, and nothing is left behind', () => {
    writeFileSync(join(dir, 'file'), 'x');
    mkdirSync(join(dir, 'blocked', 'ring.svg'), { recursive: true });
    mkdirSync(join(dir, 'foreign'));
    writeFileSync(join(dir, 'foreign', 'manifest.json'), '{"name":"an app of the web"}');
    const files = set('x', 'placement.json', 'ring.svg');
    expect(problem(writeSet(join(dir, 'file'), files))).toMatchObject([{ code: 'not-a-folder' }]);
    expect(problem(writeSet(join(dir, 'file', 'below'), files))).toMatchObject([{ code: 'not-a-folder' }]);
    expect(problem(writeSet(join(dir, 'blocked'), files))).toMatchObject([{ code: 'file-blocked' }]);
    expect(problem(writeSet(join(dir, 'foreign'), files))).toMatchObject([{ code: 'foreign-manifest' }]);
    expect(readdirSync(join(dir, 'blocked'))).toEqual(['ring.svg']);
    expect(readdirSync(join(dir, 'foreign'))).toEqual(['manifest.json']);
  });

  /** A limit on the size of files stands for the full disk: the write fails halfway through the set. */
  it('is a full disk: the old set stays whole and no temporary file is left', () => {
    writeSet(dir, set('one', 'ring.svg'));
    const before = listed(dir).map((name) => readFileSync(join(dir, name), 'utf8'));
    const line = `trap '' XFSZ; ulimit -f 60; exec "$0" "$@"`;
    const args = ['-c', line, process.execPath, RUNS, bundle, dir, 'b', '1'];
    const run = spawnSync('sh', args, { encoding: 'utf8' });
    expect(run.stdout).toContain('"code":"disk-full"');
    expect(run.stderr).toBe('');
    expect(listed(dir).map((name) => readFileSync(join(dir, name), 'utf8'))).toEqual(before);
    expect(checkSet(dir).state).toBe('complete');
  });

  it('is a folder that may not be written to', () => {
    writeSet(dir, set('one', 'ring.svg'));
    chmodSync(dir, 0o555);
    // The superuser may write everywhere, so the run is made as nobody.
    const root = process.getuid?.() === 0;
    if (root) process.seteuid?.(65_534);
    const outcome = tried(() => writeSet(dir, set('two', 'ring.svg', 'detail.svg')));
    if (root) process.seteuid?.(0);
    chmodSync(dir, 0o755);
    expect(outcome).toMatchObject({ ok: false, problems: [{ code: 'no-permission' }] });
    expect(listed(dir)).toEqual(['manifest.json', 'ring.svg']);
  });
});

/** The value, or the error as a value, so that what follows is not skipped. */
function tried(work: () => unknown): unknown {
  try {
    return work();
  } catch (error) {
    return error;
  }
}

describe('runs at once, and runs that are killed', () => {
  it('need no lock: two rings at once end in one whole set, or in one that shows to be mixed', async () => {
    for (let round = 0; round < 3; round++) {
      const runs = startBoth(bundle, dir, 60);
      expect(await Promise.all(runs.map(ended))).toEqual([0, 0]);
      const { state } = checkSet(dir);
      expect(['complete', 'mixed']).toContain(state);
      if (state === 'complete') expect(marks(dir)).toHaveLength(1);
      writeSet(dir, set('c', 'ring.svg'));
      expect(checkSet(dir).state).toBe('complete');
      expect(listed(dir)).toEqual(['manifest.json', 'ring.svg']);
    }
  });

  it(`leave a complete set or one that shows to be mixed, ${KILLS} times, two rings into one folder`, async () => {
    const seen = await killRuns(KILLS, bundle, dir);
    console.info(`killed ${KILLS} times: ${JSON.stringify(seen)}`);
    expect(seen.complete + seen.mixed).toBeGreaterThan(KILLS / 2);
    expect(seen.mixed).toBeGreaterThan(0);
    expect(seen.leftTemporary).toBeGreaterThan(0);
  });
});
