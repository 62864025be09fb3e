/**
 * The report in a real Chromium, used as a person uses it. What is measured is held to the placement's own numbers;
 * where the drawing goes is read from the browser's own matrix of the die's group.
 */
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { BondPad, Placement } from '../../src/format/placement.ts';
import { scratchFolder } from '../helpers/program.ts';
import { sample, spread } from '../write/sample.ts';
import { openBrowser, without } from '../write/tools.ts';
import { type Opened, onScreen, openReport, settled, sight } from './open.ts';

const FINDINGS: Placement['findings'] = [
  { rule: 'spacing', severity: 'warning', message: 'two pads come close', items: ['adc_5'], x: 95, y: 700 },
  { rule: 'count', severity: 'error', message: 'no control cell', items: [] },
  { rule: 'shift', severity: 'error', message: 'a pad is moved', items: ['gpio_8'], x: 900, y: 95 },
];

const placement: Placement = { ...sample({ pads: spread(48), style: 'staggered' }), findings: FINDINGS };

const padOf = (number: number): BondPad => {
  const pad = placement.bondPads.find((one) => one.number === number);
  if (pad === undefined) throw new Error(`no pad ${number}`);
  return pad;
};

const round = (value: number): number => Math.round(value * 1e6) / 1e6;

describe.skipIf(without('chromium'))('the report in Chromium', () => {
  const folder = scratchFolder();
  let browser: Browser;
  let opened: Opened;
  let page: Page;

  beforeAll(async () => {
    browser = await openBrowser();
    opened = await openReport(browser, folder, placement);
    page = opened.page;
  });
  afterAll(() => browser?.close());

  const said = () => page.textContent('#said');
  const card = () => page.textContent('#card');
  /** How far a point of the die is from the middle of the drawing's box, in pixels. */
  const fromMiddle = async ({ x, y }: { x: number; y: number }): Promise<number> => {
    await settled(page);
    const [at, middle] = [await onScreen(page, x, y), await sight(page)];
    return Math.hypot(at.x - middle.x, at.y - middle.y);
  };
  const find = async (text: string): Promise<void> => {
    await page.fill('#find', text);
    await page.keyboard.press('Enter');
    await settled(page);
  };
  const point = async ({ x, y }: { x: number; y: number }): Promise<{ x: number; y: number }> => {
    await settled(page);
    return onScreen(page, x, y);
  };
  const click = async (place: { x: number; y: number }): Promise<void> => {
    const at = await point(place);
    await page.mouse.click(at.x, at.y);
    await settled(page);
  };
  const whole = async (): Promise<void> => {
    await page.click('#whole');
    await settled(page);
  };

  it('finds a pin, zooms to its pad, tells what it is, and goes back', async () => {
    await whole();
    const before = await sight(page);
    const pad = padOf(14);
    await find(pad.pin);
    expect(await fromMiddle(pad)).toBeLessThan(1);
    const close = await sight(page);
    expect(close.scale).toBeGreaterThan(3 * before.scale);
    expect(await card()).toContain(`Pad 14 ${pad.pin}`);
    expect(await card()).toContain(`x ${pad.x}\u202fµm, y ${pad.y}\u202fµm`);
    await page.click('#back');
    await settled(page);
    const after = await sight(page);
    expect(after.scale).toBeCloseTo(before.scale, 9);
    expect(await fromMiddle({ x: placement.die.width / 2, y: placement.die.height / 2 })).toBeLessThan(1);
    // A number finds the pad, a cell's name the cell, and what does not exist nothing.
    await find('23');
    expect(await card()).toContain('Pad 23');
    const cell = placement.cells.find(({ role }) => role === 'corner');
    await find(cell?.name ?? '');
    expect(await card()).toContain(`Cell ${cell?.name}`);
    await page.fill('#find', 'nowhere');
    expect(await page.textContent('#found-count')).toBe('nothing found');
    expect(await page.isVisible('#found')).toBe(false);
    await page.fill('#find', '');
  });

  it('lists pads, supplies, rails and findings, and each row leads to its place', async () => {
    await whole();
    await page.click('#tab-pads');
    expect(await page.locator('#panel-pads tbody tr').count()).toBe(placement.bondPads.length);
    await page.click('#panel-pads tbody tr:nth-child(31) button');
    expect(await fromMiddle(padOf(31))).toBeLessThan(1);
    await page.click('#tab-supplies');
    const supplies = placement.nets.filter(({ kind }) => kind !== 'signal');
    expect(await page.locator('#panel-supplies table:first-of-type tbody tr').count()).toBe(supplies.length);
    await page.click('#tab-rails');
    expect(await page.locator('#panel-rails table:first-of-type tbody tr').count()).toBe(
      placement.rails.length,
    );
    await page.click('#tab-findings');
    // The gravest first: the errors, then the warning.
    expect(await page.locator('#panel-findings tbody tr').allTextContents()).toEqual([
      expect.stringContaining('no control cell'),
      expect.stringContaining('a pad is moved'),
      expect.stringContaining('two pads come close'),
    ]);
    await page.click('#panel-findings tbody tr:nth-child(2) button');
    expect(await fromMiddle({ x: 900, y: 95 })).toBeLessThan(1);
    expect(await card()).toContain('a pad is moved');
    expect(await page.locator('#panel-findings tr[aria-current]').textContent()).toContain('a pad is moved');
    // One without a place of its own says so.
    await page.click('#panel-findings tbody tr:nth-child(1) button');
    expect(await said()).toBe('finding 1 chosen; it has no place in the drawing');
  });

  it('lights a net along the whole ring, and a section, and nothing else', async () => {
    const lit = async (kind: string): Promise<readonly string[]> =>
      (await page.evaluate(
        `[...document.querySelectorAll('.lit [data-${kind}]')].map((e) => e.dataset.${kind})`,
      )) as string[];
    const net = placement.rails[0]?.net ?? '';
    await find(net);
    const pads = placement.bondPads.filter((pad) => pad.net === net);
    const arcs = placement.rails.flatMap((rail, i) => (rail.net === net ? [String(i + 1)] : []));
    expect(pads.length).toBeGreaterThan(1);
    expect(new Set(await lit('pad'))).toEqual(new Set(pads.map(({ number }) => String(number))));
    expect(await lit('arc')).toEqual(arcs);
    expect(await page.isVisible('.veil')).toBe(true);
    expect(await page.locator('.over-names text.first').count()).toBe(pads.length);
    await page.click('#unlight');
    expect(await page.isVisible('.veil')).toBe(false);
    expect(await lit('pad')).toEqual([]);
    await find('analog');
    const cells = placement.cells.filter(({ section }) => section === 'analog').map(({ name }) => name);
    expect(new Set(await lit('cell'))).toEqual(new Set(cells));
    await page.click('#unlight');
    // An arc of the list.
    await page.click('#tab-rails');
    await page.click('#panel-rails tbody tr:nth-child(2) button');
    expect(await lit('arc')).toEqual(['2']);
    await page.click('#unlight');
  });

  it('measures a pitch, a stagger and a spacing, each the very value that the placement has', async () => {
    const [a, b, c] = [padOf(5), padOf(6), padOf(7)];
    expect([a.row === c.row, a.row === b.row, a.side === c.side]).toEqual([true, false, true]);
    await page.click('#tab-pads');
    await page.click('#panel-pads tbody tr:nth-child(6) button');
    await page.click('#measure');
    const results = page.locator('.results li');
    const measured = async (): Promise<string> => (await results.last().textContent()) ?? '';
    // A little off the centre: it snaps.
    await click({ x: a.x + 3, y: a.y - 2 });
    await click({ x: c.x - 2, y: c.y + 3 });
    const pitch = round(Math.abs(a.y - c.y));
    expect(await measured()).toContain(`pitch ${pitch}\u202fµm along the left side, 0\u202fµm across it`);
    expect(pitch).toBe(2 * (placement.summary.pitches.find(({ side }) => side === 'left')?.least ?? 0));
    expect(await page.locator('.over-values text').allTextContents()).toContain(String(pitch));
    await click(a);
    await click(b);
    expect(await measured()).toContain(
      `stagger ${round(Math.abs(a.y - b.y))}\u202fµm along the left side, ${round(Math.abs(a.x - b.x))}\u202fµm across it`,
    );
    // Edge to edge: the lower edge of one pad's metal to the upper edge of the next of its row.
    await click({ x: a.x + 20, y: a.y - a.height / 2 + 0.5 });
    await click({ x: c.x + 20, y: c.y + c.height / 2 - 0.5 });
    expect(await measured()).toContain(`y ${round(a.y - a.height / 2 - (c.y + c.height / 2))}\u202fµm`);
    expect(await measured()).toContain(`lower edge of pad 5 ${a.pin}`);
    // Two edges at a right angle have no distance.
    await click({ x: a.x + 20, y: a.y - a.height / 2 });
    await click({ x: c.x - c.width / 2, y: c.y + 20 });
    expect(await measured()).toContain('no distance');
    await page.click('text=Clear all');
    expect(await results.count()).toBe(0);
    await page.click('#measure');
  });

  it('tells what is under the pointer, and goes deeper at each click', async () => {
    await find('5');
    const pad = padOf(5);
    const at = await point(pad);
    await page.mouse.move(at.x, at.y);
    await settled(page);
    expect(await page.textContent('#chip')).toContain(`pad 5 ${pad.pin}`);
    expect(await page.textContent('#place')).toBe(`x ${pad.x.toFixed(1)}  y ${pad.y.toFixed(1)} µm`);
    const rail = placement.rails[0]?.rectangles.find(
      (one) => one.height > one.width && one.x < placement.die.width / 2,
    );
    const cell = placement.cells.find(({ name }) => name === pad.cell);
    if (rail === undefined || cell === undefined) throw new Error('the sample has no rail');
    const crossing = { x: rail.x + rail.width / 2, y: cell.y + cell.height / 2 };
    const there = await point(crossing);
    await page.mouse.move(there.x, there.y);
    await settled(page);
    expect(await page.textContent('#chip')).toMatch(/^rail vdd/);
    expect(await page.textContent('#chip')).toContain(`cell ${pad.cell}`);
    await click(crossing);
    expect(await card()).toMatch(/^Rail vdd/);
    await click(crossing);
    expect(await card()).toMatch(`Cell ${pad.cell}`);
    await page.click('#unlight');
    await page.mouse.move(5, 5);
  });

  it('shows and hides parts by purpose', async () => {
    const shown = (selector: string) =>
      page.evaluate(
        `(({ width, height }) => width + height > 0)(document.querySelector('${selector}').getBoundingClientRect())`,
      );
    for (const [part, selector] of [
      ['cells', '#ring-cells use'],
      ['pads', '#ring-pads use'],
      ['stems', '#ring-stems rect'],
      ['rails', '#ring-rails path'],
      ['sections', '#ring-sections path'],
      ['breaks', '#ring-breaks path'],
      ['core', '#ring-core rect'],
      ['names', '.over-names text'],
      ['findings', '.over-findings circle'],
    ] as const) {
      await whole();
      expect([part, await shown(selector)]).toEqual([part, true]);
      await page.uncheck(`#part-${part}`);
      await settled(page);
      expect([part, await shown(selector)]).toEqual([part, false]);
      await page.check(`#part-${part}`);
    }
  });

  it('zooms by the wheel about the pointer, and drags', async () => {
    await whole();
    const pad = padOf(20);
    const exact = await point(pad);
    // Wheel events come at whole pixels.
    const at = { x: Math.round(exact.x), y: Math.round(exact.y) };
    const { scale } = await sight(page);
    const below = { x: pad.x + (at.x - exact.x) / scale, y: pad.y - (at.y - exact.y) / scale };
    await page.mouse.move(at.x, at.y);
    for (let i = 0; i < 5; i++) await page.mouse.wheel(0, -200);
    await settled(page);
    const now = await point(below);
    expect(Math.hypot(now.x - at.x, now.y - at.y)).toBeLessThan(0.5);
    await page.mouse.down();
    await page.mouse.move(at.x + 60, at.y - 40, { steps: 6 });
    await page.mouse.up();
    const then = await point(below);
    expect([Math.round(then.x - now.x), Math.round(then.y - now.y)]).toEqual([60, -40]);
    // A drag chooses nothing.
    expect(await said()).not.toContain('pad 20');
  });

  it('pinches by the ratio of the fingers about their middle, drags by one finger, and a tap chooses', async () => {
    const phone = await openReport(browser, folder, placement, {
      viewport: { width: 390, height: 844 },
      hasTouch: true,
      isMobile: true,
    });
    const { page: small } = phone;
    const fingers = await small.context().newCDPSession(small);
    const touch = (
      type: 'touchStart' | 'touchMove' | 'touchEnd',
      ...at: readonly (readonly [number, number])[]
    ) =>
      fingers.send('Input.dispatchTouchEvent', { type, touchPoints: at.map(([x, y], id) => ({ x, y, id })) });
    await settled(small);
    const before = await sight(small);
    const [x, y] = [Math.round(before.x), Math.round(before.y)];
    const middle = { x: placement.die.width / 2, y: placement.die.height / 2 };
    await touch('touchStart', [x - 30, y], [x + 30, y]);
    for (let d = 35; d <= 90; d += 5) await touch('touchMove', [x - d, y], [x + d, y]);
    await touch('touchEnd');
    await settled(small);
    expect((await sight(small)).scale / before.scale).toBeCloseTo(3, 1);
    const at = await onScreen(small, middle.x, middle.y);
    expect(Math.hypot(at.x - before.x, at.y - before.y)).toBeLessThan(6);
    await touch('touchStart', [x, y]);
    for (let d = 0; d <= 40; d += 5) await touch('touchMove', [x + d, y - d]);
    await touch('touchEnd');
    await settled(small);
    const moved = await onScreen(small, middle.x, middle.y);
    expect([Math.round(moved.x - at.x), Math.round(moved.y - at.y)]).toEqual([40, -40]);
    await small.tap('#whole');
    await settled(small);
    const pad = await onScreen(small, padOf(1).x, padOf(1).y);
    await small.touchscreen.tap(pad.x, pad.y);
    await settled(small);
    expect(await small.textContent('#said')).toBe(`pad 1 ${padOf(1).pin} chosen`);
    expect(phone.amiss).toEqual([]);
    await phone.close();
  });

  it('carries the neighbours of a pad with their distances', async () => {
    await find('6');
    const [before, after] = [padOf(4), padOf(8)];
    expect(await card()).toContain(
      `${round(Math.abs(padOf(6).y - before.y))}\u202fµm to pad 4 ${before.pin}, ${round(Math.abs(padOf(6).y - after.y))}\u202fµm to pad 8 ${after.pin}`,
    );
  });

  it('asked the network for nothing and complained of nothing', () => {
    expect(opened.amiss).toEqual([]);
  });
});
