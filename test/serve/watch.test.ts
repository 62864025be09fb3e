/** The watch on files: every way in which an editor saves is seen, once, and nothing else. */
import { appendFileSync, renameSync, rmSync, utimesSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { standNow, type Watch, watchFiles } from '../../src/serve/watch.ts';
import { scratchFolder } from '../helpers/program.ts';

const folder = scratchFolder();
const path = join(folder, 'watched.txt');
const PACE = { every: 10, settled: 5, patience: 100 };
let watch: Watch;
let calls = 0;
let waiting: (() => void) | undefined;

const after = (ms: number): Promise<void> => new Promise((done) => setTimeout(done, ms));

/** The next call; the test's own time limit is the guard. */
const called = (): Promise<void> =>
  new Promise((done) => {
    waiting = done;
  });

beforeEach(async () => {
  writeFileSync(path, 'one');
  await after(10);
  calls = 0;
  watch = watchFiles(() => {
    calls++;
    watch.follow(new Map([[path, standNow(path)]]));
    waiting?.();
    waiting = undefined;
  }, PACE);
  watch.follow(new Map([[path, standNow(path)]]));
});
afterEach(() => watch.stop());

it.each<[string, () => void]>([
  ['written in place', () => writeFileSync(path, 'two of them')],
  ['written with as many letters', () => writeFileSync(path, 'two')],
  [
    'replaced by renaming another',
    () => {
      writeFileSync(`${path}.new`, 'two');
      renameSync(`${path}.new`, path);
    },
  ],
  [
    'replaced by an older one of the same length',
    () => {
      writeFileSync(`${path}.new`, 'two');
      utimesSync(`${path}.new`, 1, 1);
      renameSync(`${path}.new`, path);
    },
  ],
  ['taken away', () => rmSync(path)],
  [
    'moved away for a backup and written anew',
    () => {
      renameSync(path, `${path}~`);
      writeFileSync(path, 'two');
    },
  ],
])('sees a file that is %s, once', async (_, save) => {
  const seen = called();
  save();
  await seen;
  await after(60);
  expect(calls).toBe(1);
});

it('sees a file come that was not there', async () => {
  rmSync(path);
  watch.follow(new Map([[path, standNow(path)]]));
  await after(40);
  expect(calls).toBe(0);
  const seen = called();
  writeFileSync(path, 'three');
  await seen;
  expect(calls).toBe(1);
});

it('sees a change made between the reading and the following', async () => {
  const before = standNow(path);
  await after(10);
  writeFileSync(path, 'two');
  const seen = called();
  watch.follow(new Map([[path, before]]));
  await seen;
});

it('says nothing of a file at rest, and nothing once it is stopped', async () => {
  await after(60);
  watch.stop();
  writeFileSync(path, 'two');
  await after(60);
  expect(calls).toBe(0);
});

it('waits for a writer, but not for ever, and reads once more in the end', async () => {
  // Longer than the patience in all, with no rest of its own.
  for (let i = 0; i < 80; i++) {
    appendFileSync(path, 'more');
    await after(3);
  }
  const during = calls;
  await after(80);
  expect(during).toBeGreaterThan(0);
  expect(during).toBeLessThan(40);
  expect(calls).toBeGreaterThan(during);
});
