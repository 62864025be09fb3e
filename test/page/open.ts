/** Opens a report in a real Chromium, from disk as a person would, and asks it things. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser, BrowserContextOptions, Page } from 'playwright-core';
import type { Placement } from '../../src/format/placement.ts';
import { filesOf } from '../../src/write/files.ts';

export interface Opened {
  readonly page: Page;
  /** What the page asked of the network, complained of, or popped up: nothing of it should ever be. */
  readonly amiss: readonly string[];
  readonly close: () => Promise<void>;
}

let count = 0;

/** Writes a placement's report into a folder and opens it. */
export async function openReport(
  browser: Browser,
  folder: string,
  placement: Placement,
  options: BrowserContextOptions = {},
): Promise<Opened> {
  const path = join(folder, `report-${++count}.html`);
  writeFileSync(path, filesOf(placement).get('report.html') ?? '');
  return openUrl(browser, `file://${path}`, options);
}

export async function openUrl(
  browser: Browser,
  url: string,
  options: BrowserContextOptions = {},
): Promise<Opened> {
  const context = await browser.newContext({
    viewport: { width: 1400, height: 900 },
    reducedMotion: 'reduce',
    ...options,
  });
  const page = await context.newPage();
  const amiss: string[] = [];
  page.on('request', (request) => {
    if (!request.url().startsWith(url) && !request.url().startsWith('data:')) amiss.push(request.url());
  });
  page.on('pageerror', (error) => amiss.push(error.message));
  page.on('console', (message) => {
    if (message.type() === 'error') amiss.push(message.text());
  });
  page.on('dialog', (dialog) => {
    amiss.push(`dialog ${dialog.message()}`);
    void dialog.dismiss();
  });
  await page.goto(url);
  return { page, amiss, close: () => context.close() };
}

/** Where a point of the die is on the screen, in pixels of the window. */
export async function onScreen(page: Page, x: number, y: number): Promise<{ x: number; y: number }> {
  return (await page.evaluate(`(() => {
    const dot = new DOMPoint(${x}, ${y}).matrixTransform(document.querySelector('#ring-die').getScreenCTM());
    return { x: dot.x, y: dot.y };
  })()`)) as { x: number; y: number };
}

/** The middle of the drawing's box, and pixels a micrometre. */
export async function sight(page: Page): Promise<{ x: number; y: number; scale: number }> {
  return (await page.evaluate(`(() => {
    const { left, top, width, height } = document.querySelector('#view').getBoundingClientRect();
    const m = document.querySelector('#ring-die').getScreenCTM();
    return { x: left + width / 2, y: top + height / 2, scale: Math.hypot(m.a, m.b) };
  })()`)) as { x: number; y: number; scale: number };
}

/** Two frames later, all that follows from an input is drawn. */
export const settled = (page: Page): Promise<unknown> =>
  page.evaluate('new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))');

export interface Text {
  readonly text: string;
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
  readonly inside: boolean;
}

/** Every text that is drawn in or over the ring, with its box and whether it is all in sight. */
export const textsOf = (page: Page): Promise<readonly Text[]> =>
  page.evaluate(`(() => {
    const box = document.querySelector('#view').getBoundingClientRect();
    return [...document.querySelectorAll('#view text')]
      .filter((text) => text.checkVisibility() && text.textContent !== '')
      .map((text) => {
        const { left, top, right, bottom } = text.getBoundingClientRect();
        const inside = left >= box.left - 1 && right <= box.right + 1 && top >= box.top - 1 && bottom <= box.bottom + 1;
        return { text: text.textContent, left, top, right, bottom, inside };
      });
  })()`) as Promise<readonly Text[]>;

/**
 * Pairs of texts that cover each other. A line's box has room above and below its letters; what counts is the letters,
 * which take the middle of it.
 */
export function covering(texts: readonly Text[]): readonly string[] {
  const cores = texts.map((text) => {
    const [width, height] = [text.right - text.left, text.bottom - text.top];
    const trim = Math.min(width, height) * 0.12;
    return {
      ...text,
      left: text.left + trim,
      right: text.right - trim,
      top: text.top + trim,
      bottom: text.bottom - trim,
    };
  });
  return cores.flatMap((a, i) =>
    cores
      .slice(i + 1)
      .filter((b) => a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom)
      .map((b) => `${a.text} / ${b.text}`),
  );
}
