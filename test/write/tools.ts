/**
 * The outside tools that look at drawings: xmllint, rsvg-convert, a real Chromium. Where one is not installed the
 * test that needs it says so and is left out, but in CI its absence is a failure.
 */
import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { delimiter, join } from 'node:path';
import { type Browser, chromium } from 'playwright-core';

/** Where a program of one of these names stands; undefined where there is none. */
export function pathOf(...names: readonly string[]): string | undefined {
  const folders = (process.env.PATH ?? '').split(delimiter);
  return names
    .flatMap((name) => folders.map((folder) => join(folder, name)))
    .find((path) => existsSync(path));
}

export const tools = {
  xmllint: pathOf('xmllint'),
  rsvg: pathOf('rsvg-convert'),
  chromium: pathOf('chromium', 'chromium-browser', 'google-chrome'),
};

/** Whether to leave a test out for want of a tool: never in CI, where it then fails. */
export function without(tool: keyof typeof tools): boolean {
  if (tools[tool] !== undefined || process.env.CI) return false;
  console.log(`${tool} is not installed: the tests that need it are left out`);
  return true;
}

/** Runs a tool on a file's text; the value is what it complains of. */
export function complaints(tool: 'xmllint' | 'rsvg', args: readonly string[], input: string): string {
  const run = spawnSync(tools[tool] ?? tool, args, { input, maxBuffer: 1 << 28 });
  if (run.error) return run.error.message;
  return run.status === 0
    ? run.stderr.toString()
    : `status ${run.status}: ${run.stderr.toString().slice(0, 500)}`;
}

export const openBrowser = (): Promise<Browser> =>
  chromium.launch({
    ...(tools.chromium === undefined ? {} : { executablePath: tools.chromium }),
    headless: true,
    args: [
      '--no-sandbox',
      '--disable-gpu',
      '--no-first-run',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
    ],
  });
