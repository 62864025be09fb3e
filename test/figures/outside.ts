/** Outside judges of the figures' tests: ngspice for circuits and highs for programs. */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import highsModule from 'highs';

/** Whether ngspice runs here. In CI it must: a test that falls back on records there is a failure. */
export const hasNgspice: boolean = spawnSync('ngspice', ['--version']).status === 0;
if (!hasNgspice) {
  if (process.env.CI) throw new Error('ngspice does not run, and in CI it must');
  console.info('ngspice is not installed: compared with recorded values instead');
}

/**
 * Runs a circuit whose control section prints its figures with `print` and returns them by name. Numbers come with
 * 15 digits.
 */
export function ngspice(circuit: readonly string[], control: readonly string[]): ReadonlyMap<string, number> {
  const folder = mkdtempSync(join(tmpdir(), 'figures-'));
  try {
    const file = join(folder, 'circuit.cir');
    const text = [
      'figures',
      ...circuit,
      '.control',
      'set numdgt=15',
      ...control,
      'quit',
      '.endc',
      '.end',
      '',
    ];
    writeFileSync(file, text.join('\n'));
    const run = spawnSync('ngspice', ['-b', file], { encoding: 'utf8', maxBuffer: 1 << 28 });
    const values = new Map<string, number>();
    for (const [, name, value] of run.stdout.matchAll(/^(\S+)\s*=\s*(-?[\d.]+(?:e[+-]?\d+)?)/gim))
      if (name !== undefined) values.set(name.toLowerCase(), Number(value));
    if (values.size === 0) throw new Error(`ngspice gave no figures:\n${run.stdout}\n${run.stderr}`);
    return values;
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/** The solver. Its types describe its CommonJS form, its default export is the loader itself. */
const highs = await (highsModule as unknown as typeof highsModule.default)();

/**
 * Solves a program in the LP format; the objective and the variables, or undefined where it is infeasible. Without its
 * presolve, for with it highs 1.15.3 calls a worse solution of some programs optimal.
 */
export function solveProgram(
  text: string,
): { readonly objective: number; readonly value: (name: string) => number } | undefined {
  const result = highs.solve(text, { output_flag: false, presolve: 'off', mip_rel_gap: 0, mip_abs_gap: 0 });
  if (result.Status === 'Infeasible') return undefined;
  if (result.Status !== 'Optimal') throw new Error(`highs ended as ${result.Status}`);
  return {
    objective: result.ObjectiveValue,
    value: (name) => {
      const column = result.Columns[name];
      return column && 'Primal' in column ? column.Primal : 0;
    },
  };
}

/** A generator of numbers in [0, 1) from a seed (mulberry32), the same on every machine. */
export function numbers(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}
