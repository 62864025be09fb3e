/** Runs that write into a folder, killed at any moment. */
import { type ChildProcess, spawn, spawnSync } from 'node:child_process';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import { expect } from 'vitest';
import { checkSet } from '../../src/write/sets.ts';

const here = fileURLToPath(new URL('.', import.meta.url));
export const RUNS = join(here, 'folder-runs.mjs');

/** Bundles `folder.ts`, so that a process of its own can run it. */
export async function bundleFolder(outfile: string): Promise<void> {
  const entryPoints = [join(here, '../../src/write/folder.ts')];
  await build({ entryPoints, bundle: true, platform: 'node', format: 'esm', outfile, logLevel: 'error' });
}

export const listed = (dir: string): readonly string[] => readdirSync(dir).sort();

/** The sets that a folder's plain files are of, by their first letter; the manifest is none of them. */
export const marks = (dir: string): readonly string[] => [
  ...new Set(
    listed(dir)
      .filter((name) => !name.startsWith('.') && name !== 'manifest.json')
      .map((name) => readFileSync(join(dir, name), 'utf8').slice(0, 1)),
  ),
];

/** Starts a run for each of the two rings, both into one folder. */
export const startBoth = (bundle: string, dir: string, times: number): readonly ChildProcess[] =>
  ['a', 'b'].map((which) =>
    spawn(process.execPath, [RUNS, bundle, dir, which, String(times)], {
      stdio: ['ignore', 'pipe', 'inherit'],
    }),
  );

export const ended = (run: ChildProcess) => new Promise((done) => run.once('exit', done));
const ready = (run: ChildProcess) => new Promise((done) => run.stdout?.once('data', done));

export interface Kills {
  readonly complete: number;
  readonly mixed: number;
  readonly absent: number;
  readonly leftTemporary: number;
}

/**
 * Kills two rings' runs into one folder so many times, each time a little later. After each, what stands there is
 * one whole set or shows to be mixed; every second time the next run mends it.
 */
export async function killRuns(count: number, bundle: string, dir: string): Promise<Kills> {
  const seen = { complete: 0, mixed: 0, absent: 0, leftTemporary: 0 };
  for (let i = 0; i < count; i++) {
    const runs = startBoth(bundle, dir, 1_000_000);
    await Promise.all(runs.map(ready));
    await new Promise((done) => setTimeout(done, (i * 7.3) % 41));
    const ends = runs.map(ended);
    for (const run of runs) run.kill('SIGKILL');
    await Promise.all(ends);
    const { state, amiss } = checkSet(dir);
    seen[state]++;
    if (listed(dir).some((name) => name.startsWith('.'))) seen.leftTemporary++;
    if (state === 'complete') expect(marks(dir)).toHaveLength(1);
    if (state === 'mixed') expect(amiss.length).toBeGreaterThan(0);
    if (i % 2 === 0) continue;
    const which = i % 4 === 1 ? 'a' : 'b';
    spawnSync(process.execPath, [RUNS, bundle, dir, which, '1']);
    expect(checkSet(dir)).toMatchObject({ state: 'complete', amiss: [] });
    expect(listed(dir).filter((name) => name.startsWith('.'))).toEqual([]);
    expect(marks(dir)).toEqual([which]);
  }
  return seen;
}
