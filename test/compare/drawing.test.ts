/**
 * Shows `diff.svg`: both dies to one scale, a mark for each pin that differs and for no other, arrows from the old
 * place to the new one, names that do not overlap and cannot inject; and that it is well-formed.
 *
 * Source of the values: the difference itself; xmllint and librsvg as readers of SVG 1.1 (absent: the text's own tags
 * only).
 */
import { describe, expect, it } from 'vitest';
import { difference } from '../../src/compare/difference.ts';
import type { Placement } from '../../src/format/placement.ts';
import { differenceSvg } from '../../src/write/difference-svg.ts';
import { run, tool } from '../layout/outside.ts';
import { type SamplePin, sample } from '../layout/sample.ts';

const many = (name: string, count: number): SamplePin[] =>
  Array.from({ length: count }, (_, i) => ({ pin: `${name}${i}`, mirrored: i % 3 === 0 }));

/** Thirty pins pushed by a new one, two gone, one on another side, one in another section, a die that grew. */
function pair(): readonly [Placement, Placement] {
  const a = sample({
    die: 2400,
    sides: { left: many('l', 30), bottom: many('b', 8), right: many('r', 20), top: many('t', 6) },
  });
  const left = [{ pin: '<script>"&' }, ...many('l', 30)];
  const right = many('r', 20).filter((_, i) => i !== 3);
  const top = many('t', 6).filter((_, i) => i !== 5 && i !== 2);
  const bottom = [...many('b', 8).map((p, i) => (i === 4 ? { ...p, section: 'quiet' } : p)), { pin: 't5' }];
  return [a, sample({ die: 2500, sides: { left, bottom, right, top } })];
}

const drawn = ([a, b]: readonly [Placement, Placement]) => differenceSvg(a, b, difference(a, b));
const attributes = (svg: string, name: string): string[] =>
  [...svg.matchAll(new RegExp(` ${name}="([^"]*)"`, 'gu'))].map((m) => m[1] ?? '');

/** The part of the drawing of one die: from its group to the next one. */
const part = (svg: string, which: 'before' | 'now'): string => {
  const start = svg.indexOf(`id="diff-${which}"`);
  const end = svg.indexOf(which === 'before' ? 'id="diff-now"' : 'class="lists"');
  return svg.slice(start, end);
};

describe('diff.svg', () => {
  it('marks the pins that differ and no other', () => {
    const [a, b] = pair();
    const svg = drawn([a, b]);
    const marks = (text: string) =>
      [...text.matchAll(/ data-pin="([^"]*)" data-change="(\w+)"/gu)].map((m) => `${m[2]} ${m[1]}`).sort();
    const found = difference(a, b);
    expect(marks(part(svg, 'before'))).toEqual(['moved t5', 'removed r3', 'removed t2']);
    const slid = found.moved.map((m) => `moved ${m.pin}`);
    expect(slid).toHaveLength(30 + 16 + 2 + 1);
    expect(marks(part(svg, 'now'))).toEqual(
      ['added &lt;script&gt;&quot;&amp;', 'changed b4', ...slid].sort(),
    );
  });

  it('draws both dies to one scale', () => {
    const svg = drawn(pair());
    const [before, now] = (['before', 'now'] as const).map((which) => {
      const frame = /d="M[\d.]+ [\d.]+h([\d.]+)v([\d.]+)h-/u.exec(part(svg, which));
      return [Number(frame?.[1]), Number(frame?.[2])];
    });
    expect((now?.[0] ?? 0) / (before?.[0] ?? 1)).toBeCloseTo(2500 / 2400, 4);
    expect((now?.[1] ?? 0) / (before?.[1] ?? 1)).toBeCloseTo(2520 / 2420, 4);
  });

  it('leads arrows from the old place to the new one', () => {
    const svg = drawn(pair());
    const scale = Number(/d="M[\d.]+ [\d.]+h([\d.]+)/u.exec(part(svg, 'now'))?.[1]) / 2500;
    const arrow = /<path d="M([\d.]+) ([\d.]+)L([\d.]+) ([\d.]+)" data-pin="(\w+)"/gu;
    const ways = [...part(svg, 'now').matchAll(arrow)].map((m) => ({
      pin: m[5],
      x: (Number(m[3]) - Number(m[1])) / scale,
      y: (Number(m[4]) - Number(m[2])) / scale,
    }));
    expect(ways).toHaveLength(48);
    for (const { pin, x, y } of ways) {
      // On the sheet y leads down: a pin of the left side that goes along goes down, one of the right side up.
      const [wantX, wantY] = pin?.startsWith('l') ? [0, 50] : pin?.startsWith('r') ? [0, 50] : [50, 0];
      expect(x).toBeCloseTo(wantX, 0);
      expect(y).toBeCloseTo(wantY, 0);
    }
    expect(
      part(svg, 'now').match(/d="M[\d. ]+Q[\d. ]+" stroke-dasharray="[\d. ]+" data-pin="t5"/gu),
    ).toHaveLength(1);
  });

  it('keeps names off each other', () => {
    const svg = drawn(pair());
    const at =
      /<text (?:x="([\d.]+)" y="([\d.]+)"|transform="translate\(([\d.]+) ([\d.]+)\) rotate\(-90\)")[^>]*data-pin/gu;
    for (const which of ['before', 'now'] as const) {
      const names = [...part(svg, which).matchAll(at)].map((m) =>
        m[1] === undefined
          ? { across: Number(m[3]), line: `upward ${m[4]}` }
          : { across: Number(m[2]), line: m[1] },
      );
      expect(names.length).toBe(which === 'before' ? 3 : 51);
      for (const [i, one] of names.entries())
        for (const other of names.slice(i + 1))
          if (one.line === other.line) expect(Math.abs(one.across - other.across)).toBeGreaterThan(2.5);
    }
  });

  it('is well-formed, drawn, and lets no name in as markup', () => {
    const svg = drawn(pair());
    expect(svg).not.toContain('<script');
    expect(svg).toContain('&lt;script&gt;');
    expect(attributes(svg, 'data-change').length).toBe(54);
    const xmllint = tool('xmllint', ['xmllint'], ['--version']);
    if (xmllint !== null) expect(run(xmllint, ['--noout', '-'], svg)).toMatchObject({ status: 0, err: '' });
    const rsvg = tool('librsvg', ['rsvg-convert'], ['--version']);
    if (rsvg !== null) expect(run(rsvg, ['-w', '600'], svg)).toMatchObject({ status: 0 });
  });

  it('says the same bytes each time, and has a drawing for no difference', () => {
    expect(drawn(pair())).toBe(drawn(pair()));
    const [a] = pair();
    const svg = drawn([a, a]);
    expect(attributes(svg, 'data-change')).toEqual([]);
    expect(svg).toContain('no pin differs');
  });

  it('leaves out names where a side has no room, and says how many', () => {
    const a = sample({ die: 9000, sides: { bottom: many('b', 160) } });
    const b = sample({ die: 9000, sides: { bottom: [{ pin: 'new' }, ...many('b', 160)] } });
    const svg = drawn([a, b]);
    expect(svg).toMatch(/(\d+) names of marked pins found no room/u);
    expect(svg).toContain('>+ new<');
  });
});
