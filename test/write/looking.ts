/**
 * What a real browser sees in a drawing: every text with its box on the sheet. Evaluated in the page, so it is
 * handed over as source text and knows nothing from outside.
 */
import type { Page } from 'playwright-core';

export interface SeenText {
  readonly text: string;
  /** In millimetres on the sheet as printed on A3. */
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
  readonly size: number;
  /** How wide it is drawn over how wide its letters are by themselves. */
  readonly stretch: number;
  readonly pad: string | null;
  readonly dimension: string | null;
}

const LOOK = `(() => {
  const mm = 25.4 / 96;
  const root = document.documentElement.getBoundingClientRect();
  const all = [...document.querySelectorAll('text')];
  const seen = all.map((element) => {
    const box = element.getBoundingClientRect();
    return {
      text: element.textContent,
      left: (box.left - root.left) * mm,
      top: (box.top - root.top) * mm,
      right: (box.right - root.left) * mm,
      bottom: (box.bottom - root.top) * mm,
      size: parseFloat(getComputedStyle(element).fontSize),
      stretch: element.getComputedTextLength(),
      pad: element.getAttribute('data-pad'),
      dimension: element.getAttribute('data-dimension'),
    };
  });
  for (const element of all) element.removeAttribute('textLength');
  return seen.map((one, i) => ({ ...one, stretch: one.stretch / all[i].getComputedTextLength() }));
})()`;

/** Opens a drawing as a document of its own, as if from disk, and looks at its texts. */
export async function look(page: Page, svg: string): Promise<readonly SeenText[]> {
  await page.goto('about:blank');
  await page.goto(`data:image/svg+xml;base64,${Buffer.from(svg, 'utf8').toString('base64')}`);
  return page.evaluate(LOOK) as Promise<readonly SeenText[]>;
}

/** Pairs of texts that cover each other by more than a hair. */
export function overlapping(texts: readonly SeenText[]): readonly string[] {
  const hair = 0.03;
  const found: string[] = [];
  const sorted = texts.toSorted((a, b) => a.left - b.left);
  sorted.forEach((a, i) => {
    for (const b of sorted.slice(i + 1)) {
      if (b.left >= a.right - hair) break;
      if (a.top < b.bottom - hair && b.top < a.bottom - hair) found.push(`${a.text} / ${b.text}`);
    }
  });
  return found;
}
