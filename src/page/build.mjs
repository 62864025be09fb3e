/**
 * Builds the report's page into one module of three texts, dist/page.js: its code, its style and its frame. The program
 * puts them into each report; nothing of them is read or compiled before.
 */
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { build } from 'esbuild';

/** The licence of the library that the page carries, which asks to be kept with it. */
const licence = () =>
  `/*! @panzoom/panzoom\n${readFileSync('node_modules/@panzoom/panzoom/MIT-License.txt', 'utf8').trim()}\n*/`;

async function bundled(entry, options) {
  const { outputFiles } = await build({
    entryPoints: [entry],
    bundle: true,
    minify: true,
    write: false,
    charset: 'utf8',
    target: ['chrome123', 'firefox120', 'safari17.5'],
    legalComments: 'none',
    logLevel: 'warning',
    ...options,
  });
  return outputFiles[0].text.trim();
}

export async function buildPage() {
  const code = await bundled('src/page/main.ts', { format: 'esm', platform: 'browser' });
  const script = `${licence()}\n${code}`;
  const style = await bundled('src/page/style.css', {});
  if (/<\/(script|style)/i.test(script + style)) throw new Error('the page holds the end of its own element');
  const frame = readFileSync('src/page/page.html', 'utf8').replace(/\n\s*/g, '\n').trim();
  const text = Object.entries({ script, style, frame })
    .map(([name, value]) => `export const ${name} = ${JSON.stringify(value)};\n`)
    .join('');
  mkdirSync('dist', { recursive: true });
  writeFileSync('dist/page.js', text);
}
