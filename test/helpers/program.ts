/** Runs the built program (`npm run build` first, which `npm test` does) in a folder of its own. */
import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterAll } from 'vitest';

const CLI = resolve('dist/cli.js');

export interface Ran {
  readonly status: number | null;
  readonly out: string;
  readonly err: string;
}

/** One run; a test that needs the program fails where it is not built. */
export function ringwright(args: readonly string[], cwd: string): Ran {
  if (!existsSync(CLI)) throw new Error('dist/cli.js is missing: run "npm run build" first');
  const { status, stdout, stderr } = spawnSync(process.execPath, [CLI, ...args], {
    cwd,
    encoding: 'utf8',
    timeout: 120_000,
    maxBuffer: 64 * 1024 * 1024,
  });
  return { status, out: stdout, err: stderr };
}

/** A folder that goes when the file's tests are done. */
export function scratchFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'ringwright-test-'));
  afterAll(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}
