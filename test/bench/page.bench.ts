/**
 * The report of a ring of a thousand pads in a real Chromium: how long a frame takes while it is dragged, over a budget
 * of 16.7 ms (60 frames a second), at three zooms and with a net lit; how long it takes to open, over the same page
 * of sixteen pads; and its size over 3 MB. Frames are counted by the browser's own clock between them.
 */
import { existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { delimiter, join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { filesOf } from '../../src/write/files.ts';
import { sample, spread } from '../write/sample.ts';
import { report } from './measure.ts';

const BUDGET = 1000 / 60;
const LARGEST = 3_000_000;

// Not bundled: the library finds its own parts beside itself.
const { chromium } = createRequire(join(process.cwd(), 'package.json'))(
  'playwright-core',
) as typeof import('playwright-core');

const folder = mkdtempSync(join(tmpdir(), 'ringwright-page-'));
const executablePath = (process.env.PATH ?? '')
  .split(delimiter)
  .flatMap((place) => ['chromium', 'chromium-browser', 'google-chrome'].map((name) => join(place, name)))
  .find((path) => existsSync(path));

const quantile = (sorted: readonly number[], share: number): number =>
  sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * share))] ?? Number.NaN;

/** Times between frames while the drawing is dragged to and fro. */
async function drag(page: Page): Promise<readonly number[]> {
  const box = await page.locator('#view').boundingBox();
  if (box === null) throw new Error('no drawing');
  const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
  await page.mouse.move(x, y);
  await page.mouse.down();
  await page.evaluate(`(() => {
    window.drawn = [];
    let last;
    const tick = (now) => {
      if (last !== undefined) window.drawn.push(now - last);
      last = now;
      if (window.drawn !== undefined) requestAnimationFrame(tick);
    };
    requestAnimationFrame(tick);
  })()`);
  for (let i = 0; i < 150; i++) await page.mouse.move(x + Math.sin(i / 9) * 160, y + Math.cos(i / 9) * 120);
  const frames = (await page.evaluate('window.drawn')) as number[];
  await page.mouse.up();
  return frames.sort((a, b) => a - b);
}

function frames(what: string, sorted: readonly number[]): void {
  report({
    what: `frame while dragging 1 000 pads, ${what} / ${BUDGET.toFixed(1)} ms`,
    ratio: quantile(sorted, 0.5) / BUDGET,
    spread: [quantile(sorted, 0.25) / BUDGET, quantile(sorted, 0.9) / BUDGET],
    frames: sorted.length,
  });
}

async function opening(browser: Browser, path: string): Promise<number> {
  const page = await browser.newPage({ viewport: { width: 1400, height: 900 }, reducedMotion: 'reduce' });
  const start = performance.now();
  await page.goto(`file://${path}`);
  await page.waitForFunction("document.querySelectorAll('.over-names text').length > 0");
  const took = performance.now() - start;
  await page.close();
  return took;
}

const written = (pads: number): { path: string; size: number } => {
  const html = filesOf(sample({ pads: spread(pads), style: 'staggered' })).get('report.html') ?? '';
  const path = join(folder, `${pads}.html`);
  writeFileSync(path, html);
  return { path, size: Buffer.byteLength(html) };
};

try {
  const [large, small] = [written(1000), written(16)];
  report({ what: 'size of the page of 1 000 pads / 3 MB', ratio: large.size / LARGEST });
  if (executablePath === undefined) throw new Error('chromium is not installed');
  const browser = await chromium.launch({
    executablePath,
    args: ['--no-sandbox', '--disable-gpu', '--no-first-run', '--disable-background-networking'],
  });
  const ratios: number[] = [];
  for (let i = 0; i < 7; i++)
    ratios.push((await opening(browser, large.path)) / (await opening(browser, small.path)));
  ratios.sort((a, b) => a - b);
  report({
    what: 'open the page of 1 000 pads / of 16',
    ratio: quantile(ratios, 0.5),
    spread: [quantile(ratios, 0.25), quantile(ratios, 0.75)],
  });
  const page = await browser.newPage({ viewport: { width: 1400, height: 900 }, reducedMotion: 'reduce' });
  await page.goto(`file://${large.path}`);
  frames('the whole ring', await drag(page));
  await page.click('#tab-rails');
  await page.click('#panel-rails tbody tr:nth-child(2) button');
  frames('an arc lit', await drag(page));
  await page.click('#unlight');
  for (let i = 0; i < 5; i++) await page.click('#in');
  frames('8 times closer', await drag(page));
  await page.fill('#find', '500');
  await page.keyboard.press('Enter');
  frames('at a pad', await drag(page));
  await browser.close();
} finally {
  rmSync(folder, { recursive: true, force: true });
}
