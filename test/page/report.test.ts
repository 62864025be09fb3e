/**
 * The report as a file: what it holds, what it lets run, that no name can change it; and how it opens in a real Chromium
 * with hostile names and with a thousand pads.
 */
import { createHash } from 'node:crypto';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { script, style } from '#page';
import type { Placement } from '../../src/format/placement.ts';
import { filesOf } from '../../src/write/files.ts';
import { CELL, INK, LANES, PAD, PAPER, SECTIONS, STEM } from '../../src/write/palette.ts';
import { partners } from '../../src/write/report/colours.ts';
import { livePage } from '../../src/write/report.ts';
import { scratchFolder } from '../helpers/program.ts';
import { sample, spread } from '../write/sample.ts';
import { openBrowser, without } from '../write/tools.ts';
import { covering, onScreen, openReport, openUrl, settled, textsOf } from './open.ts';

const INJECTIONS = [
  '</script><script>window.hit = 1</script>',
  '<img src=x onerror="window.hit = 1">',
  '"><svg onload="window.hit = 1">',
  "' onmouseover='window.hit = 1",
  '<!--<script>',
  ']]><![CDATA[',
  '</style><style>*{display:none}</style>',
  '&lt;b&gt;',
  '{{constructor.constructor("window.hit = 1")()}}',
  '\u202egnp.lru\u202c',
  '\u05e9\u05dc\u05d5\u05dd',
  '__proto__',
  'constructor',
  'a\u0000b\u2028c',
];

function hostile(): Placement {
  const [first = '', second = '', third = ''] = INJECTIONS;
  const placement = sample({
    ring: first,
    pads: spread(28),
    style: 'inline',
    sections: [second, third],
    pinName: (i) => `${INJECTIONS[i % INJECTIONS.length]}${i}`,
  });
  return {
    ...placement,
    findings: INJECTIONS.map((text) => ({
      rule: text,
      severity: 'error' as const,
      message: text,
      items: [text],
      x: 100,
      y: 100,
      waived: text,
    })),
    summary: {
      ...placement.summary,
      electrical: { notAssessed: second },
    },
  };
}

const reportOf = (placement: Placement): string => filesOf(placement).get('report.html') ?? '';
const policyOf = (html: string): string => /Content-Security-Policy" content="([^"]*)"/.exec(html)?.[1] ?? '';
const hash = (text: string): string => `'sha256-${createHash('sha256').update(text).digest('base64')}'`;

describe('the file', () => {
  it('lets its own code and style act, by their hashes, and nothing else; and asks no network', () => {
    const html = reportOf(sample({ pads: spread(16), style: 'inline' }));
    const styles = /<style>([\s\S]*?)<\/style>/.exec(html)?.[1] ?? '';
    const run = /<script type="module">([\s\S]*?)<\/script>/.exec(html)?.[1] ?? '';
    expect(styles.startsWith(style)).toBe(true);
    expect(run).toBe(script);
    expect(policyOf(html).split('; ')).toEqual([
      "default-src 'none'",
      'img-src data:',
      `script-src ${hash(run)}`,
      `style-src ${hash(styles)}`,
      "base-uri 'none'",
      "form-action 'none'",
    ]);
    expect(policyOf(livePage())).toContain("connect-src 'self'");
    // Nothing in it leads elsewhere but the names of XML's own namespaces and the library's licence.
    const links = html.match(/https?:\/\/[^\s"'<>)]+/g) ?? [];
    expect(links.filter((link) => !link.startsWith('http://www.w3.org/'))).toEqual([]);
  });

  it('carries the whole placement, the licence of the library in it, and is the same every time', () => {
    const placement = sample({ pads: spread(16), style: 'inline' });
    const html = reportOf(placement);
    const data = /<script type="application\/json" id="placement">([\s\S]*?)<\/script>/.exec(html)?.[1] ?? '';
    expect(JSON.parse(data)).toEqual(JSON.parse(JSON.stringify(placement)));
    expect(html).toContain('Permission is hereby granted, free of charge');
    expect(reportOf(placement)).toBe(html);
  });

  it('holds no name as markup', () => {
    const html = reportOf(hostile());
    const data = /<script type="application\/json" id="placement">([\s\S]*?)<\/script>/.exec(html)?.[1] ?? '';
    expect(data).not.toContain('<');
    expect(JSON.parse(data).ring).toBe(INJECTIONS[0]);
    const outside = html.replace(data, '').replace(script, '');
    expect(outside.match(/<script/g)).toHaveLength(2);
    for (const markup of ['<img', 'onload="', 'onerror="', '<style>*', '<![CDATA['])
      expect(outside).not.toContain(markup);
  });

  it('has a dark partner for every colour of the drawings', () => {
    const colours = [
      PAPER,
      STEM,
      ...Object.values(INK),
      ...Object.values(PAD),
      ...Object.values(CELL).flatMap(({ fill, stroke }) => [fill, stroke]),
      ...LANES.map(({ colour }) => colour),
      ...SECTIONS.map(({ colour }) => colour),
    ];
    expect(colours.filter((colour) => !partners().has(colour))).toEqual([]);
    const drawing = filesOf({
      ...sample({ pads: spread(48), style: 'staggered' }),
      findings: hostile().findings,
    }).get('ring.svg');
    const used = new Set(
      [...(drawing ?? '').matchAll(/ (?:fill|stroke)="(#[0-9a-f]+)"/g)].map((match) => match[1] ?? ''),
    );
    expect(used.size).toBeGreaterThan(15);
    expect([...used].filter((colour) => !partners().has(colour))).toEqual([]);
    // And no two of a list become one.
    for (const list of [LANES, SECTIONS]) {
      const dark = list.map(({ colour }) => partners().get(colour));
      expect(new Set(dark).size).toBe(list.length);
    }
  });
});

describe.skipIf(without('chromium'))('opened in Chromium', () => {
  const folder = scratchFolder();
  let browser: Browser;
  beforeAll(async () => {
    browser = await openBrowser();
  });
  afterAll(() => browser?.close());

  it('shows hostile names as they are, and runs nothing of them', async () => {
    const placement = hostile();
    const opened = await openReport(browser, folder, placement);
    const { page } = opened;
    for (const tab of ['pads', 'supplies', 'rails', 'findings', 'figures', 'measure', 'legend'])
      await page.click(`#tab-${tab}`);
    // A browser shows a zero byte as it can; the rest comes through as it was written.
    const clean = (text: string | null) => (text ?? '').replaceAll('\u0000', '\ufffd');
    const pins = await page.locator('#panel-pads tbody td:nth-of-type(1)').allTextContents();
    expect(pins.map(clean)).toEqual(placement.bondPads.map(({ pin }) => clean(pin)));
    expect(await page.textContent('#ring-name')).toBe(INJECTIONS[0]);
    expect(await page.title()).toBe(`${INJECTIONS[0]}: ring report`);
    for (let i = 0; i < 28; i++) {
      await page.fill('#find', placement.bondPads[i]?.pin.replaceAll('\u0000', '') ?? '');
      await page.keyboard.press('Enter');
    }
    for (let i = 1; i <= INJECTIONS.length; i++) {
      await page.click('#tab-findings');
      await page.click(`#panel-findings tbody tr:nth-child(${i}) button`);
    }
    await page.hover('#view');
    await settled(page);
    expect(await page.evaluate('window.hit')).toBeUndefined();
    const made = await page.evaluate(
      "[document.images.length, document.scripts.length, document.querySelectorAll('[onload], [onerror], [onmouseover]').length]",
    );
    expect(made).toEqual([0, 2, 0]);
    expect(opened.amiss).toEqual([]);
    await opened.close();
  });

  it.each<[string, Placement]>([
    ['without a pad', sample({ pads: { left: 0, bottom: 0, right: 0, top: 0 }, style: 'inline' })],
    ['of one pad', sample({ pads: { left: 0, bottom: 0, right: 1, top: 0 }, style: 'in-cell' })],
    ['that is long', sample({ pads: { left: 0, bottom: 90, right: 2, top: 60 }, style: 'staggered' })],
    [
      'of names of 200 letters',
      sample({ pads: spread(40), style: 'inline', pinName: (i) => `${'W'.repeat(197)}${i}` }),
    ],
    [
      'without rails, sections and core',
      {
        ...sample({ pads: spread(12), style: 'over-circuit' }),
        rails: [],
        sections: [],
        nets: [],
        core: { x: 0, y: 0, width: 0, height: 0 },
      },
    ],
  ])('opens a ring %s', async (_, placement) => {
    for (const width of [1400, 320]) {
      const opened = await openReport(browser, folder, placement, { viewport: { width, height: 800 } });
      const { page } = opened;
      for (const tab of ['supplies', 'rails', 'findings', 'figures', 'measure', 'legend', 'pads'])
        await page.click(`#tab-${tab}`);
      await page.focus('#view');
      for (const key of ['n', 'Enter', 'l', 's', 'm', 'n', 'm', 'b', 'p', 'f', '0', '+', 'Escape', 'Escape'])
        await page.keyboard.press(key);
      await settled(page);
      const texts = await textsOf(page);
      expect(covering(texts)).toEqual([]);
      expect(texts.filter(({ inside }) => !inside)).toEqual([]);
      expect(await page.evaluate('document.documentElement.scrollWidth - innerWidth')).toBe(0);
      expect(opened.amiss).toEqual([]);
      await opened.close();
    }
  });

  it('can neither fetch nor run what is put into it', async () => {
    const path = join(folder, 'tampered.html');
    writeFileSync(
      path,
      reportOf(sample({ pads: spread(16), style: 'inline' })).replace(
        '</main>',
        '</main><script>window.hit = 1</script>',
      ),
    );
    const opened = await openUrl(browser, `file://${path}`);
    expect(await opened.page.evaluate('window.hit')).toBeUndefined();
    const fetched = await opened.page.evaluate(
      "fetch('http://127.0.0.1:9/').then(() => 'went', (error) => String(error))",
    );
    expect(fetched).toContain('Failed to fetch');
    expect(
      opened.amiss.filter((text) => text.includes('Content Security Policy')).length,
    ).toBeGreaterThanOrEqual(2);
    await opened.close();
  });

  it('opens and moves a ring of a thousand pads, in less than 3 MB', async () => {
    const placement = sample({ pads: spread(1000), style: 'staggered' });
    expect(Buffer.byteLength(reportOf(placement))).toBeLessThan(3_000_000);
    const opened = await openReport(browser, folder, placement);
    const { page } = opened;
    expect(await page.locator('#ring-pads use').count()).toBe(1000);
    const start = await onScreen(page, 0, 0);
    const box = await page.locator('#view').boundingBox();
    if (box === null) throw new Error('no drawing');
    const [x, y] = [Math.round(box.x + box.width / 2), Math.round(box.y + box.height / 2)];
    await page.mouse.move(x, y);
    await page.mouse.down();
    for (let i = 1; i <= 20; i++) await page.mouse.move(x + 4 * i, y - 3 * i);
    await page.mouse.up();
    await settled(page);
    const end = await onScreen(page, 0, 0);
    expect([Math.round(end.x - start.x), Math.round(end.y - start.y)]).toEqual([80, -60]);
    await page.fill('#find', '777');
    await page.keyboard.press('Enter');
    await settled(page);
    expect(await page.locator('.over-names text.first').textContent()).toContain('777');
    expect(opened.amiss).toEqual([]);
    await opened.close();
  });
});
