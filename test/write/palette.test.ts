/**
 * The palette for readers who are colour-blind or print in grey: what must be told apart differs by more than its
 * colour, and the colours still differ where one kind of cone is missing. Source: the linear maps of Vienot,
 * Brettel and Mollon, "Digital video colourmaps for checking the legibility of displays by dichromats", Color
 * Research and Application 24 (1999), from memory; contrast after WCAG 2.1, 1.4.3 and 1.4.11.
 */
import { describe, expect, it } from 'vitest';
import { CELL, INK, LANES, PAD, PAPER, SECTIONS } from '../../src/write/palette.ts';

type Colour = readonly [number, number, number];

const linear = (hex: string): Colour => {
  const part = (at: number) => {
    const value = Number.parseInt(hex.slice(at, at + 2), 16) / 255;
    return value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4;
  };
  return [part(1), part(3), part(5)];
};

/** Red and green as seen without the long-wave or the middle-wave cones; blue stays. */
const SEEN: Readonly<Record<string, (colour: Colour) => Colour>> = {
  'all cones': (colour) => colour,
  'no long-wave cones': ([r, g, b]) => {
    const both = 0.11238 * r + 0.88762 * g;
    return [both, both, 0.00401 * r - 0.00401 * g + b];
  },
  'no middle-wave cones': ([r, g, b]) => {
    const both = 0.29275 * r + 0.70725 * g;
    return [both, both, -0.02234 * r + 0.02234 * g + b];
  },
};

const luminance = ([r, g, b]: Colour): number => 0.2126 * r + 0.7152 * g + 0.0722 * b;
const contrast = (a: string, b: string): number => {
  const [low, high] = [luminance(linear(a)), luminance(linear(b))].sort((x, y) => x - y);
  return ((high ?? 0) + 0.05) / ((low ?? 0) + 0.05);
};

/** Distance in CIE L*a*b* (D65). */
function distance(a: Colour, b: Colour): number {
  const lab = ([r, g, blue]: Colour): Colour => {
    const f = (t: number) => (t > 216 / 24_389 ? Math.cbrt(t) : ((24_389 / 27) * t + 16) / 116);
    const x = f((0.4124 * r + 0.3576 * g + 0.1805 * blue) / 0.9505);
    const y = f(0.2126 * r + 0.7152 * g + 0.0722 * blue);
    const z = f((0.0193 * r + 0.1192 * g + 0.9505 * blue) / 1.089);
    return [116 * y - 16, 500 * (x - y), 200 * (y - z)];
  };
  const [p, q] = [lab(a), lab(b)];
  return Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]);
}

describe('the palette', () => {
  it('tells lanes and sections apart by their dashes alone', () => {
    for (const list of [LANES, SECTIONS]) {
      const dashes = list.map((look) => look.dashes.join(' '));
      expect(new Set(dashes).size).toBe(list.length);
    }
  });

  it.each(Object.keys(SEEN))('tells neighbouring lanes, and the metals of pads, apart with %s', (eye) => {
    const see = (hex: string) => (SEEN[eye] ?? ((colour: Colour) => colour))(linear(hex));
    const lanes = LANES.slice(0, 4).map(({ colour }) => colour);
    for (const list of [lanes, Object.values(PAD)])
      list.forEach((one, i) => {
        for (const other of list.slice(i + 1))
          expect([one, other, distance(see(one), see(other)) > 10]).toEqual([one, other, true]);
      });
  });

  it('keeps text, lines and outlines readable on what they stand on', () => {
    for (const text of [INK.text, INK.quiet, INK.alarm]) expect(contrast(text, PAPER)).toBeGreaterThan(4.5);
    for (const { colour } of [...LANES, ...SECTIONS])
      expect([colour, contrast(colour, PAPER) >= 3]).toEqual([colour, true]);
    for (const [role, { fill, stroke }] of Object.entries(CELL))
      if (role !== 'filler') expect([role, contrast(fill, stroke) >= 3]).toEqual([role, true]);
  });
});
