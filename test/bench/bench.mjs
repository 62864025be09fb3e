/**
 * The benchmark: ratios, never a verdict. Bundles each part, runs it in a process of its own, prints its rows and
 * writes all of them to out/bench.json. `npm run bench -- place cold` runs the parts named.
 */
import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { build } from 'esbuild';

const wanted = process.argv.slice(2);
const parts = readdirSync('test/bench')
  .filter((name) => name.endsWith('.bench.ts'))
  .filter((name) => wanted.length === 0 || wanted.includes(name.replace('.bench.ts', '')))
  .sort();
mkdirSync('out', { recursive: true });
// Within the project: the solver is not bundled, and is looked for from here.
const folder = mkdtempSync(join('out', 'bench-'));
const rows = [];
try {
  for (const part of parts) {
    const outfile = join(folder, part.replace('.ts', '.mjs'));
    await build({
      entryPoints: [`test/bench/${part}`],
      outfile,
      bundle: true,
      external: ['highs'],
      format: 'esm',
      platform: 'node',
      target: 'node20',
      logLevel: 'error',
      banner: {
        js: "import { createRequire as benchRequire } from 'node:module';const require = benchRequire(import.meta.url);",
      },
    });
    const ran = spawnSync(process.execPath, [outfile], { encoding: 'utf8', maxBuffer: 1 << 26 });
    if (ran.status !== 0) throw new Error(`${part}: ${ran.stderr}`);
    for (const line of ran.stdout.split('\n').filter((l) => l.startsWith('{'))) {
      const row = JSON.parse(line);
      rows.push({ part: part.replace('.bench.ts', ''), ...row });
      const spread =
        row.spread === undefined ? '' : `  (${row.spread.map((x) => x.toFixed(2)).join(' to ')})`;
      console.log(`${row.what.padEnd(74)} ${row.ratio.toFixed(2).padStart(8)}${spread}`);
    }
  }
} finally {
  rmSync(folder, { recursive: true, force: true });
}
writeFileSync('out/bench.json', `${JSON.stringify(rows, null, 1)}\n`);
console.log(`${rows.length} ratios in out/bench.json`);
