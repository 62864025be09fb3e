/**
 * Shows: `styles.svg` has every die to one scale with its ring and core, no text overlaps, and names cannot inject;
 * `ringwright size` prints, draws and ends as it promises. Sources: the drawing's own rectangles measured; W3C SVG 1.1
 * by xmllint, librsvg and a real Chromium; the demonstrations.
 */
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it, test } from 'vitest';
import { size } from '../../src/commands/size.ts';
import { sizeRing } from '../../src/size/size.ts';
import type { Sizes } from '../../src/size/sizes.ts';
import { stylesSvg } from '../../src/write/styles-svg.ts';
import { entry, library, ring, um } from '../helpers/ring.ts';
import { look, overlapping } from '../write/looking.ts';
import { complaints, openBrowser, without } from '../write/tools.ts';

function sizesOf(name = 'worked'): Sizes {
  const [io] = library();
  if (io === undefined) throw new Error('an empty library');
  const pads = (side: string, count: number) =>
    Array.from({ length: count }, (_, i) => entry(io, `${side}${i}`));
  const outcome = sizeRing(
    ring(
      library(),
      'inline',
      { left: pads('l', 30), bottom: pads('b', 44), right: pads('r', 30), top: pads('t', 20) },
      { name, core: { width: um(900), height: um(1200), clearance: um(10) } },
    ),
  );
  if (!outcome.ok) throw new Error('cannot be sized');
  return outcome.value;
}

const attribute = (tag: string, name: string): number =>
  Number(new RegExp(` ${name}="([^"]*)"`).exec(tag)?.[1]);

describe('styles.svg', () => {
  const sizes = sizesOf();
  const svg = stylesSvg(sizes);
  it('has each die, its room and its core to one scale', () => {
    const groups = [...svg.matchAll(/<g class="die"[\s\S]*?<\/g>/g)].map(([text]) => text);
    expect(groups.length).toBe(sizes.styles.length);
    expect(groups.length).toBeGreaterThan(5);
    const scales = groups.flatMap((text, i) => {
      const style = sizes.styles[i];
      const [die, room, core] = [...text.matchAll(/<rect[^>]*>/g)].map(([tag]) => tag);
      if (style === undefined || die === undefined || room === undefined || core === undefined)
        throw new Error('a part is missing');
      expect(text).toContain(`data-width="${style.die.width}"`);
      return [
        attribute(die, 'width') / style.die.width,
        attribute(die, 'height') / style.die.height,
        attribute(room, 'width') / style.core.width,
        attribute(room, 'height') / style.core.height,
        attribute(core, 'width') / 900,
        attribute(core, 'height') / 1200,
      ];
    });
    for (const scale of scales) expect(scale / (scales[0] ?? 0)).toBeCloseTo(1, 2);
  });
  it('is one drawing for one ring, and no name gets out of its text', () => {
    expect(stylesSvg(sizes)).toBe(svg);
    const nasty = stylesSvg(sizesOf('</text><script>alert(1)</script>" onload="x'));
    expect(nasty).not.toMatch(/<script|<[^>]* onload=/);
  });
  test.skipIf(without('xmllint'))('is well-formed to xmllint', () => {
    expect(complaints('xmllint', ['--noout', '-'], svg)).toBe('');
  });
  test.skipIf(without('rsvg'))('is drawn by librsvg', () => {
    expect(complaints('rsvg', ['-w', '400'], svg)).toBe('');
  });
  describe.skipIf(without('chromium'))('in a real browser', () => {
    let close: () => Promise<void> = async () => {};
    let texts: Awaited<ReturnType<typeof look>> = [];
    beforeAll(async () => {
      const browser = await openBrowser();
      close = () => browser.close();
      texts = await look(await browser.newPage(), svg);
    });
    afterAll(() => close());
    it('no text overlaps another or leaves the sheet, and none is smaller than the sheet allows', () => {
      expect(texts.length).toBeGreaterThan(40);
      expect(overlapping(texts)).toEqual([]);
      for (const text of texts) {
        expect(text.left).toBeGreaterThan(5);
        expect(text.right).toBeLessThan(415);
        expect(text.bottom).toBeLessThan(292);
        expect(text.size).toBeGreaterThanOrEqual(2.2);
      }
    });
  });
});

describe('ringwright size', () => {
  const folder = mkdtempSync(join(tmpdir(), 'ringwright-size-'));
  afterAll(() => rmSync(folder, { recursive: true }));
  const RING = 'fixtures/frost-hub/ring.yaml';

  it('prints tables, or the same as JSON, and writes nothing unasked', async () => {
    const text = await size(RING, {});
    expect(text.status).toBe(0);
    expect(text.out).toContain('* staggered');
    const json = await size(RING, { json: true });
    const read: Sizes & { readonly status: number } = JSON.parse(json.out);
    expect(read.status).toBe(0);
    expect(read.styles.find((style) => style.described)?.name).toBe('staggered');
    expect((await size(RING, { json: true })).out).toBe(json.out);
  });
  it('draws when asked to', async () => {
    const path = join(folder, 'styles.svg');
    const drawn = await size(RING, { output: path });
    expect(drawn.out).toContain(`wrote ${path}`);
    expect(readFileSync(path, 'utf8')).toContain('data-style="staggered"');
    const nowhere = await size(RING, { output: join(RING, 'styles.svg') });
    expect([nowhere.status, nowhere.out]).toEqual([2, '']);
  });
  it('ends in 1 where no style holds the ring on the given die, in 2 on a wrong call', async () => {
    expect((await size(RING, { die: '900x900' })).status).toBe(1);
    expect((await size(RING, { die: '4000x4000' })).status).toBe(0);
    for (const wrong of [
      { die: '900' },
      { die: '0x900' },
      { exclusion: 'x' },
      { exclusion: '75' },
      { stem: '-1' },
      { stem: '' },
    ])
      expect((await size(RING, wrong)).status, JSON.stringify(wrong)).toBe(2);
    expect((await size('no-such.yaml', {})).status).toBe(2);
    expect(existsSync('no-such.yaml')).toBe(false);
  });
  it('leaves out more of a wafer where asked', async () => {
    const dies = async (exclusion: string): Promise<number> =>
      (JSON.parse((await size(RING, { json: true, exclusion })).out) as Sizes).styles[0]?.dies[0]?.whole ?? 0;
    expect(await dies('10')).toBeLessThan(await dies('0'));
  });
});
