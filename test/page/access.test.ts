/**
 * The report for everyone: by keyboard alone, in light and dark, at a phone's width and at 200 % zoom, on paper, and
 * judged by axe (the WCAG 2.2 A and AA rules and its best practices). A page zoomed to 200 % in a window of
 * 1280 by 800 has 640 by 400 CSS pixels; WCAG's reflow is asked at 320.
 */
import { AxeBuilder } from '@axe-core/playwright';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Placement } from '../../src/format/placement.ts';
import { scratchFolder } from '../helpers/program.ts';
import { sample, spread } from '../write/sample.ts';
import { openBrowser, without } from '../write/tools.ts';
import { covering, openReport, settled, sight, textsOf } from './open.ts';

const findings: Placement['findings'] = [
  { rule: 'count', severity: 'error', message: 'no control cell', items: [] },
  { rule: 'shift', severity: 'note', message: 'a pad is moved', items: ['gpio_8'], x: 900, y: 95 },
  { rule: 'shift', severity: 'error', message: 'agreed', items: [], x: 90, y: 900, waived: 'agreed' },
];
const working = {
  value: 3,
  unit: '',
  formula: 'n I / Icell',
  inputs: [{ name: 'I', value: 120, unit: 'mA' }],
  source: 'invented for this test',
};

/** A ring with findings, and a figure with its working and one that is not assessed. */
function rich(pads: number, style: 'inline' | 'staggered'): Placement {
  const placement = sample({ pads: spread(pads), style });
  const electrical = {
    supplies: [],
    figures: [
      { what: 'drop', of: 'VDD', figure: working, limit: { notAssessed: 'no budget' } },
      { what: 'noise', of: 'VDDIO', figure: { notAssessed: 'no load is given' }, limit: null },
    ],
  };
  return { ...placement, findings, summary: { ...placement.summary, electrical } };
}

const SIZES = {
  desk: { width: 1400, height: 900 },
  zoomed: { width: 640, height: 400 },
  phone: { width: 390, height: 844 },
  narrow: { width: 320, height: 640 },
} as const;

describe.skipIf(without('chromium'))('the report for everyone', () => {
  const folder = scratchFolder();
  let browser: Browser;
  beforeAll(async () => {
    browser = await openBrowser();
  });
  afterAll(() => browser?.close());

  const judged = async (page: Page, only?: readonly string[], part?: string): Promise<readonly string[]> => {
    // The drawing is one picture to a reader of the screen; what is in it is not looked through.
    const whole = new AxeBuilder({ page }).exclude('#world');
    const axe = part === undefined ? whole : whole.include(part);
    const { violations, passes } = await (only === undefined ? axe : axe.withRules([...only])).analyze();
    expect(passes.length).toBeGreaterThan(only === undefined ? 12 : 0);
    return violations.flatMap(({ id, nodes }) =>
      nodes.map(({ html, failureSummary }) => `${id}: ${html.slice(0, 160)} ${failureSummary}`),
    );
  };

  it.each(['light', 'dark'] as const)('axe finds nothing, %s, in any tab', async (colorScheme) => {
    const opened = await openReport(browser, folder, rich(20, 'inline'), { colorScheme });
    const { page } = opened;
    // What the colours change is the contrast.
    const only = colorScheme === 'dark' ? ['color-contrast'] : undefined;
    expect(await judged(page, only)).toEqual([]);
    for (const tab of ['pads', 'supplies', 'rails', 'findings', 'figures', 'measure', 'legend']) {
      await page.click(`#tab-${tab}`);
      expect([tab, await judged(page, only, '#lists')]).toEqual([tab, []]);
    }
    await page.click('#tab-findings');
    await page.click('#panel-findings tbody tr:nth-child(2) button');
    await page.fill('#find', 'gpio');
    expect(await judged(page, only)).toEqual([]);
    await page.fill('#find', 'vddio');
    await page.keyboard.press('Enter');
    await page.click('#measure');
    expect(await judged(page, only)).toEqual([]);
    expect(opened.amiss).toEqual([]);
    await opened.close();
  });

  it('axe finds nothing on a phone either', async () => {
    const opened = await openReport(browser, folder, rich(20, 'inline'), { viewport: SIZES.phone });
    expect(await judged(opened.page)).toEqual([]);
    await opened.close();
  });

  it('works by keyboard alone: search, lists, zoom and back, light, measure', async () => {
    const placement = rich(48, 'staggered');
    const opened = await openReport(browser, folder, placement);
    const { page } = opened;
    const focused = () => page.evaluate('document.activeElement.id || document.activeElement.textContent');
    const press = async (...keys: readonly string[]): Promise<void> => {
      for (const key of keys) await page.keyboard.press(key);
      await settled(page);
    };
    const tabTo = async (id: string): Promise<void> => {
      for (let i = 0; i < 40 && (await focused()) !== id; i++) await press('Tab');
      expect(await focused()).toBe(id);
    };
    // The skip link comes first, the search next.
    await press('Tab');
    expect(await focused()).toBe('Skip to the lists');
    await tabTo('find');
    await page.keyboard.type('gpio_1');
    await press('ArrowDown', 'Enter');
    const hits = placement.bondPads.filter(({ pin }) => pin.startsWith('gpio_1'));
    expect(await page.textContent('#card')).toContain(`Pad ${hits[1]?.number} ${hits[1]?.pin}`);
    // The drawing.
    await tabTo('view');
    const whole = await sight(page);
    await press('0');
    const before = await sight(page);
    expect(before.scale).toBeLessThan(whole.scale);
    await press('+', '+', 'ArrowLeft');
    expect((await sight(page)).scale).toBeCloseTo(before.scale * 1.96, 6);
    await press('Escape', 'n', 'Enter');
    expect(await page.textContent('#said')).toBe(`pad 1 ${placement.bondPads[0]?.pin} chosen`);
    const close = await sight(page);
    expect(close.scale).toBeGreaterThan(2 * before.scale);
    await press('b');
    expect((await sight(page)).scale).toBeLessThan(close.scale);
    await press('l');
    expect(await page.isVisible('.veil')).toBe(true);
    await press('Escape');
    expect(await page.isVisible('.veil')).toBe(false);
    await press('s');
    expect(await page.textContent('#said')).toBe('section digital lit');
    await press('Escape', 'f');
    expect(await page.textContent('#said')).toContain('finding 1 chosen');
    // The pitch of pads 1 and 3, which are of one row.
    await press('Escape', 'n', 'm', 'n', 'n', 'm');
    const [a, , c] = placement.bondPads;
    const pitch = Math.abs((a?.y ?? 0) - (c?.y ?? 0));
    expect(await page.textContent('#said')).toBe(
      `pitch ${pitch}\u202fµm along the left side, 0\u202fµm across it`,
    );
    // The lists: tabs by arrow keys, rows by arrow keys.
    await tabTo('tab-pads');
    await press('ArrowRight', 'ArrowRight', 'ArrowRight');
    expect(await focused()).toBe('tab-findings');
    await press('Tab', 'Tab', 'ArrowDown', 'Enter');
    expect(await page.textContent('#card')).toContain('a pad is moved');
    // Measure by name.
    await page.focus('#tab-findings');
    await press('ArrowRight', 'ArrowRight');
    expect(await focused()).toBe('tab-measure');
    await tabTo('measure-from-spot');
    await page.keyboard.type('upper');
    await tabTo('measure-from');
    await press('Control+A');
    await page.keyboard.type('cell corner-left');
    await tabTo('measure-to-spot');
    await page.keyboard.type('lower');
    await tabTo('measure-to');
    await press('Control+A');
    await page.keyboard.type('the die');
    await press('Enter');
    const corner = placement.cells.find(({ name }) => name === 'corner-left');
    const high = (corner?.y ?? 0) + (corner?.height ?? 0);
    expect(await page.textContent('.results li:last-child')).toContain(`y ${high}\u202fµm`);
    await press('Control+A');
    await page.keyboard.type('no such thing');
    await press('Enter');
    expect(await page.textContent('.wrong')).toContain('nothing named "no such thing"');
    // A part, by the space bar.
    await page.focus('#part-rails');
    await press('Space');
    expect(await page.evaluate("document.querySelector('#ring-rails').getBoundingClientRect().width")).toBe(
      0,
    );
    expect(opened.amiss).toEqual([]);
    await opened.close();
  });

  it.each([20, 120, 400])(
    'no text of the ring covers another at %i pads, at any size and zoom',
    async (pads) => {
      const placement = rich(pads, 'inline');
      for (const [size, viewport] of Object.entries(SIZES)) {
        const opened = await openReport(browser, folder, placement, { viewport });
        const { page } = opened;
        await settled(page);
        const look = async (what: string): Promise<number> => {
          const texts = await textsOf(page);
          const amiss = [
            ...covering(texts.filter(({ inside }) => inside)),
            ...texts.filter(({ inside }) => !inside).map(({ text }) => `${text} is cut`),
          ];
          expect([pads, size, what, amiss]).toEqual([pads, size, what, []]);
          return texts.filter(({ text }) => /^\u2068?[a-z]/.test(text) || /\d {2}/.test(text)).length;
        };
        const named = await look('whole');
        if (size === 'desk' && pads <= 120) expect(named).toBeGreaterThanOrEqual(pads);
        await page.fill('#find', String(Math.ceil(pads / 3)));
        await page.keyboard.press('Enter');
        await settled(page);
        await look('a pad');
        for (const step of [1, 2, 3]) {
          await page.click('#out');
          await settled(page);
          await look(`out ${step}`);
        }
        expect(opened.amiss).toEqual([]);
        await opened.close();
      }
    },
  );

  it('fits a phone, 200 % zoom and 320 pixels without scrolling sideways, all of it operable', async () => {
    for (const viewport of [SIZES.zoomed, SIZES.phone, SIZES.narrow]) {
      const opened = await openReport(browser, folder, rich(48, 'staggered'), { viewport, hasTouch: true });
      const { page } = opened;
      for (const tab of ['pads', 'supplies', 'rails', 'findings', 'figures', 'measure', 'legend']) {
        await page.tap(`#tab-${tab}`);
        const wide = await page.evaluate('document.documentElement.scrollWidth - innerWidth');
        expect([viewport.width, tab, wide]).toEqual([viewport.width, tab, 0]);
      }
      // Targets are at least 24 pixels either way (WCAG 2.5.8), links in running text apart.
      const small = await page.evaluate(`[...document.querySelectorAll('button:not(.link), input, select')]
        .filter((e) => e.checkVisibility())
        .map((e) => [e.id || e.textContent, (e.closest('label') ?? e).getBoundingClientRect()])
        .filter(([, { width, height }]) => width < 24 || height < 24)
        .map(([name, { width, height }]) => name + ' ' + width + ' ' + height)`);
      expect(small).toEqual([]);
      await page.tap('#tab-pads');
      await page.tap('#panel-pads tbody tr:nth-child(5) button');
      await settled(page);
      const box = await page.locator('#view').boundingBox();
      expect(box?.height).toBeGreaterThan(200);
      expect(await page.textContent('#card')).toContain('Pad 5');
      // The place is in sight, and the card comes next, before the lists.
      expect(box?.y).toBeGreaterThanOrEqual(-1);
      expect(box?.y).toBeLessThan(viewport.height / 2);
      const order = await page.evaluate(
        "[...document.querySelector('#lists').children].map((e) => e.id || e.className)",
      );
      expect(order).toEqual(['card', 'tabs', 'panels']);
      await opened.close();
    }
  });

  it('prints the drawing as ring.svg has it, with every list and every working', async () => {
    const opened = await openReport(browser, folder, rich(48, 'staggered'), { colorScheme: 'dark' });
    const { page } = opened;
    await page.click('#panel-pads tbody tr:nth-child(5) button');
    const pdf = await page.pdf({ preferCSSPageSize: true });
    expect(pdf.toString('latin1').match(/\/Type\s*\/Page\b/g)?.length).toBeGreaterThan(2);
    await page.evaluate("dispatchEvent(new Event('beforeprint'))");
    await page.emulateMedia({ media: 'print' });
    const seen = (await page.evaluate(`(() => {
      const shown = (selector) => [...document.querySelectorAll(selector)].filter((e) => e.checkVisibility()).length;
      const paper = document.querySelector('#ring .paper, #ring-die .outline');
      return {
        names: shown('#ring-names text'),
        legend: shown('#ring-legend text'),
        overlay: shown('#over text'),
        rows: shown('#panel-pads tbody tr'),
        findings: shown('#panel-findings tbody tr'),
        workings: shown('.formula'),
        controls: shown('button:not(th button, .link), input, select'),
        paper: getComputedStyle(paper).fill,
      };
    })()`)) as Record<string, number | string>;
    expect(seen).toEqual({
      names: 96,
      legend: expect.any(Number),
      overlay: 0,
      rows: 48,
      findings: 3,
      workings: 1,
      controls: 0,
      paper: 'rgb(255, 255, 255)',
    });
    expect(seen.legend).toBeGreaterThan(10);
    await page.evaluate("dispatchEvent(new Event('afterprint'))");
    await page.emulateMedia({ media: 'screen' });
    expect(await page.evaluate("document.querySelectorAll('.panels details[open]').length")).toBe(0);
    await opened.close();
  });

  it('goes dark and light by the system and by its button', async () => {
    const opened = await openReport(browser, folder, rich(20, 'inline'), { colorScheme: 'dark' });
    const { page } = opened;
    const looks = async () =>
      (await page.evaluate(`(() => {
        const fill = (selector) => getComputedStyle(document.querySelector(selector)).fill;
        const cell = document.querySelector('#ring defs rect');
        return [getComputedStyle(document.body).backgroundColor, fill('#ring-die .outline'), getComputedStyle(cell).fill];
      })()`)) as readonly string[];
    const dark = await looks();
    expect(dark[1]).toBe('rgb(26, 33, 36)');
    await page.click('text=Light page');
    const light = await looks();
    expect(light[1]).toBe('rgb(255, 255, 255)');
    expect(new Set([...dark, ...light]).size).toBe(6);
    await page.click('text=Dark page');
    expect(await looks()).toEqual(dark);
    await page.emulateMedia({ colorScheme: 'light' });
    await opened.close();
  });
});
