/**
 * Bundles the program into dist/: one file for the command line, one for the library, and pieces that each command
 * loads when it needs them. Bundled, because a cold start reads few files that way.
 */
import { chmodSync, mkdirSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { build } from 'esbuild';
import { leftOut } from './left-out.mjs';
import { buildPage } from './page/build.mjs';

await buildPage();
const { metafile } = await build({
  metafile: true,
  entryPoints: ['src/cli.ts', 'src/index.ts'],
  outdir: 'dist',
  chunkNames: 'pieces/[name]-[hash]',
  bundle: true,
  splitting: true,
  minify: true,
  keepNames: false,
  format: 'esm',
  platform: 'node',
  target: 'node20',
  plugins: [leftOut],
  legalComments: 'none',
  banner: {
    js: "import { createRequire as ringwrightRequire } from 'node:module';const require = ringwrightRequire(import.meta.url);",
  },
  logLevel: 'warning',
});
chmodSync('dist/cli.js', 0o755);
// Pieces of an earlier build go last: a program that runs meanwhile finds what it names.
const pieces = new Set(Object.keys(metafile.outputs).map((path) => basename(path)));
for (const name of readdirSync('dist/pieces')) if (!pieces.has(name)) rmSync(join('dist/pieces', name));

// The schemas, for editors and scripts.
const library = await import(new URL('../dist/index.js', import.meta.url));
mkdirSync('dist/schemas', { recursive: true });
for (const [name, schema] of [
  ['ring', library.ringJsonSchema()],
  ['cells', library.cellFileJsonSchema()],
  ['placement', library.placementJsonSchema()],
])
  writeFileSync(`dist/schemas/${name}.schema.json`, `${JSON.stringify(schema, null, 1)}\n`);
