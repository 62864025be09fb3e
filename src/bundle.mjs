/**
 * Bundles the program into dist/: one file for the command line, one for the library, and pieces that each command
 * loads when it needs them. Bundled, because a cold start reads few files that way.
 */
import { chmodSync, rmSync } from 'node:fs';
import { build } from 'esbuild';

rmSync('dist/cli.js', { force: true });
rmSync('dist/pieces', { recursive: true, force: true });
await build({
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
  legalComments: 'none',
  banner: { js: "import { createRequire as ringwrightRequire } from 'node:module';const require = ringwrightRequire(import.meta.url);" },
  logLevel: 'warning',
});
chmodSync('dist/cli.js', 0o755);
