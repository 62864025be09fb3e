/** Starts the process that takes the inputs, so that its memory is its own and a hang or a crash ends it alone. */
import { spawnSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import { leftOut } from '../../../src/left-out.mjs';
import type { Figures, Order } from './main.ts';

export type { Figures } from './main.ts';

/** The most that a process may take, all in all. */
export const MOST_MEGABYTES = 512;
/** What of it the engine's heap may take; code, stacks and buffers need the rest. */
const HEAP_MEGABYTES = 320;

/** Bundles the process's program into a folder. */
export async function bundleFuzz(folder: string): Promise<string> {
  const outfile = join(folder, 'fuzz.mjs');
  await build({
    entryPoints: [fileURLToPath(new URL('main.ts', import.meta.url))],
    outfile,
    bundle: true,
    platform: 'node',
    format: 'esm',
    target: 'node20',
    plugins: [leftOut],
    banner: {
      js: "import { createRequire as ringwrightRequire } from 'node:module';const require = ringwrightRequire(import.meta.url);",
    },
    logLevel: 'error',
  });
  return outfile;
}

/** Runs some inputs; a process that ends without its figures, or goes on too long, is told with the input it was at. */
export function fuzz(program: string, order: Order, patience = 3_600_000): Figures {
  const ran = spawnSync(
    process.execPath,
    [`--max-old-space-size=${HEAP_MEGABYTES}`, program, JSON.stringify(order)],
    { encoding: 'utf8', timeout: patience, killSignal: 'SIGKILL', maxBuffer: 64 * 1024 * 1024 },
  );
  const last = ran.stdout.trim().split('\n').at(-1) ?? '';
  if (ran.status === 0 && last.startsWith('{')) return JSON.parse(last);
  const mark = join(order.folder, `at-${order.reader}`);
  const index = existsSync(mark) ? readFileSync(mark, 'utf8') : '?';
  throw new Error(
    `the process ended with ${ran.signal ?? ran.status} at ${order.reader} input ${index} of seed ${order.seed}: ${ran.stderr.slice(0, 1000)}`,
  );
}
