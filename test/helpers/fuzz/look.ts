/** Runs the inputs of one reader or all, tells the figures, and holds them to what was promised. */
import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect } from 'vitest';
import { tools, without } from '../../write/tools.ts';
import type { Reader } from './seeds.ts';
import { bundleFuzz, type Figures, fuzz, MOST_MEGABYTES } from './start.ts';

/** The guard for one input, in milliseconds. */
const GUARD = 2000;

interface Asked {
  readonly reader: Reader;
  readonly count: number;
  /** The first inputs of each reader are those that are large on purpose. */
  readonly from?: number;
  readonly brief?: boolean;
}

/** Every reader's inputs, each in a process of its own. */
export async function fuzzAll(asked: readonly Asked[], seed: number): Promise<readonly Figures[]> {
  const room = mkdtempSync(join(tmpdir(), 'ringwright-fuzz-'));
  try {
    const program = await bundleFuzz(room);
    const all = asked.map(({ reader, count, from = 0, brief = false }) => {
      const folder = mkdtempSync(join(room, `${reader}-`));
      const figures = fuzz(program, { reader, seed, from, count, folder, milliseconds: GUARD, brief });
      tell(figures, seed);
      lintDrawings(join(folder, 'drawings'));
      return figures;
    });
    expect(all.flatMap((figures) => wrongs(figures, seed))).toEqual([]);
    for (const figures of all) holds(figures);
    return all;
  } finally {
    rmSync(room, { recursive: true, force: true });
  }
}

function tell(figures: Figures, seed: number): void {
  const { reader, inputs, laid, refused, impossible, longest, longestAt, peakMegabytes, written } = figures;
  console.log(
    `${reader}: seed ${seed}, ${inputs} inputs, ${laid} ${reader === 'placement' ? 'judged' : 'laid'}, ` +
      `${refused} refused, ${impossible} impossible, ${written} written, ` +
      `longest ${Math.round(longest)} ms (input ${longestAt}), peak ${peakMegabytes} MB`,
  );
}

const wrongs = ({ reader, wrong }: Figures, seed: number): readonly string[] =>
  wrong.slice(0, 20).map(({ index, what }) => `${reader} input ${index} of seed ${seed}: ${what}`);

function holds({ peakMegabytes, laid, refused, inputs }: Figures): void {
  expect(peakMegabytes).toBeLessThan(MOST_MEGABYTES);
  // Inputs that never get through, or that always do, would show nothing.
  expect(laid).toBeGreaterThan(inputs / 20);
  expect(refused).toBeGreaterThan(inputs / 20);
}

/** A second opinion on the drawings that were kept. */
function lintDrawings(folder: string): void {
  if (!existsSync(folder) || without('xmllint')) return;
  const files = readdirSync(folder).map((name) => join(folder, name));
  for (let i = 0; i < files.length; i += 200) {
    const run = spawnSync(tools.xmllint ?? 'xmllint', ['--noout', '--nonet', ...files.slice(i, i + 200)]);
    expect(run.stderr.toString()).toBe('');
    expect(run.status).toBe(0);
  }
  console.log(`${files.length} drawings are well-formed`);
}
