/**
 * The bond diagram, looked at by tools that are not ours: xmllint (XML 1.0), rsvg-convert and a real Chromium (SVG
 * 1.1). Up to 200 pads everything stands readable on one A3 sheet, beyond that on further ones that it names; printed on
 * A3 an x is at least 1.2 mm high. Every wire is drawn from its pad to its finger: the ends in the drawing are mapped
 * back to the package and held to those of `wires.csv`'s source.
 */
import { existsSync, readFileSync } from 'node:fs';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { stringWires } from '../../src/bond/string.ts';
import type { Placement } from '../../src/format/placement.ts';
import { failed, found, type Outcome } from '../../src/problems/problem.ts';
import { allRules, lay } from '../../src/run.ts';
import type { Package } from '../../src/spec/package.ts';
import { readRing } from '../../src/spec/read.ts';
import { bondSheets } from '../../src/write/bond-svg.ts';
import { X_HEIGHT } from '../helpers/lettering.ts';
import { um } from '../helpers/ring.ts';
import { look, overlapping, type SeenText } from '../write/looking.ts';
import { complaints, openBrowser, without } from '../write/tools.ts';
import { bondedRing, each, laid, lead, packageOf, pins } from './sample.ts';

const A3 = { width: 420, height: 297, border: 5 };

const readFile = (path: string): Outcome<string> =>
  existsSync(path) ? found(readFileSync(path, 'utf8')) : failed({ code: 'no-file', message: `no ${path}` });

function demonstration(name: string): Placement {
  const ring = readRing(readFile, `fixtures/${name}/ring.yaml`, allRules);
  const outcome = ring.ok ? lay(ring.value) : ring;
  if (!outcome.ok) throw new Error(outcome.problems.map((p) => p.message).join('\n'));
  return outcome.value;
}

const BASE = packageOf(lead(12, 200, 2600));
const turnedBy = (rotation: number, more: Partial<Package> = {}): Package => ({
  ...BASE,
  cavity: { width: um(4000), height: um(4000) },
  paddle: { width: um(3400), height: um(3400), reach: um(250), drop: um(300) },
  die: { x: um(100), y: um(-50), rotation },
  ...more,
});

/** Fingers that take turns between two rows. */
const tiers = packageOf(
  lead(16, 160, 2600).map((finger, i) => {
    const out = (of: number): number => (Math.abs(of) === 2.6e9 ? of * 1.15 : of) / 1e6;
    return i % 2 === 0 ? finger : { ...finger, tier: 2, x: um(out(finger.x)), y: um(out(finger.y)) };
  }),
);

/** Names that a drawing must not trip over, and long ones. */
function named(names: readonly string[]): Placement {
  const placement = laid(bondedRing(BASE, pins(each(8))));
  const pin = (i: number): string => `${names[i % names.length]}${i}`;
  if (placement.package === undefined) throw new Error('no package');
  const renamed = new Map(
    placement.package.fingers.map((finger, i) => [finger.name, `${names[i % names.length]} ${i}`]),
  );
  return {
    ...placement,
    ring: names[0] ?? '',
    bondPads: placement.bondPads.map((pad, i) => ({ ...pad, pin: pin(i), net: pin(i) })),
    package: {
      ...placement.package,
      name: names[0] ?? '',
      fingers: placement.package.fingers.map((f) => ({ ...f, name: renamed.get(f.name) ?? '' })),
      bonds: placement.package.bonds.map((b) => ({ ...b, finger: renamed.get(b.finger ?? '') ?? null })),
    },
  };
}

const INJECTIONS = [
  '</text><script>alert(1)</script>',
  '"><svg onload=alert(1)>',
  'a\u0000b\u001b[31m',
  '\u05e9\u05dc\u05d5\u05dd',
];

/** Down-bonds, two wires from a pad, crossings, and a pin without a wire. */
function troubled(): Placement {
  const to = new Map([
    ['P3', ['3', 'paddle']],
    ['P7', ['paddle']],
    ['P20', ['42', '43']],
    ['P5', ['6']],
    ['P6', ['5']],
  ]);
  const free = ['3', '5', '6', '7', '42', '43'];
  const bonds = { ...BASE.bonds, to, free };
  const placement = laid(bondedRing(turnedBy(90, { bonds }), pins(each(8))));
  if (placement.package === undefined) throw new Error('no package');
  const left = placement.package.bonds.filter((bond) => bond.bondPad !== 30);
  const again = { ...placement, package: { ...placement.package, bonds: left } };
  return again;
}

const cases: readonly (readonly [string, () => Placement])[] = [
  ['the tide gauge', () => demonstration('tide-gauge')],
  ['the frost hub', () => demonstration('frost-hub')],
  ['the lamp controller, 200 pads', () => demonstration('lamp-controller')],
  ['a die turned by 90 degrees, with findings', troubled],
  ['a die turned by 15 degrees', () => laid(bondedRing(turnedBy(15), pins(each(8))))],
  ['two tiers', () => laid(bondedRing(tiers, pins(each(16)), 'staggered'))],
  ['pads on two sides alone', () => laid(bondedRing(BASE, pins({ left: 12, bottom: 0, right: 12, top: 0 })))],
  [
    '400 pads, with findings',
    () => laid(bondedRing(packageOf(lead(104, 90, 5400)), pins(each(100)), 'staggered')),
  ],
  ['names that inject', () => named(INJECTIONS)],
  ['names of 200 letters', () => named(['W'.repeat(190), '\u4fe1'.repeat(190)])],
];

interface Drawn {
  readonly placement: Placement;
  readonly files: readonly (readonly [string, string])[];
}

/** Each case is drawn once, when the first test asks for it. */
const drawn = new Map<() => Placement, Drawn>();
function drawingsOf(made: () => Placement): Drawn {
  const known = drawn.get(made);
  if (known !== undefined) return known;
  const placement = made();
  const one = { placement, files: [...bondSheets(placement)] };
  drawn.set(made, one);
  return one;
}

describe('every sheet', () => {
  it.skipIf(without('xmllint')).each(cases)('is well-formed by xmllint: %s', (_, made) => {
    for (const [name, text] of drawingsOf(made).files)
      expect([name, complaints('xmllint', ['--noout', '-'], text)]).toEqual([name, '']);
  });

  it.skipIf(without('rsvg')).each(cases)('is drawn by rsvg-convert: %s', (_, made) => {
    for (const [name, text] of drawingsOf(made).files)
      expect([name, complaints('rsvg', ['--width', '500'], text)]).toEqual([name, '']);
  });

  it('has the same bytes every time', () => {
    const placement = demonstration('tide-gauge');
    expect([...bondSheets(placement)]).toEqual([...bondSheets(placement)]);
  });
});

it('one sheet holds 200 pads with their names and table; 400 take further ones, which the first names', () => {
  expect(drawingsOf(cases[2]?.[1] ?? troubled).files.map(([name]) => name)).toEqual(['bond.svg']);
  const many = drawingsOf(cases[7]?.[1] ?? troubled).files;
  expect(many.length).toBeGreaterThan(5);
  const [first] = many;
  for (const [name] of many.slice(1)) expect(first?.[1]).toContain(name);
  expect(many.map(([name]) => name)).toContain('bond-wires.svg');
});

it('there is none without a package', () => {
  const { package: _, ...bare } = demonstration('tide-gauge');
  expect(bondSheets(bare)).toEqual(new Map());
});

describe.skipIf(without('chromium'))('in a real browser', () => {
  let browser: Browser;
  let page: Page;
  beforeAll(async () => {
    browser = await openBrowser();
    page = await browser.newPage({ viewport: { width: 1600, height: 1150 } });
  });
  afterAll(() => browser?.close());

  const readable = (name: string, texts: readonly SeenText[]) => {
    for (const { text, left, top, right, bottom, size } of texts) {
      expect([name, text, size * X_HEIGHT >= 1.2]).toEqual([name, text, true]);
      const inside =
        left >= A3.border &&
        top >= A3.border &&
        right <= A3.width - A3.border &&
        bottom <= A3.height - A3.border;
      expect([name, text, inside]).toEqual([name, text, true]);
    }
    expect([name, overlapping(texts)]).toEqual([name, []]);
  };

  it.each(cases)('no text is clipped, too small or on another: %s', async (what, made) => {
    const { placement, files } = drawingsOf(made);
    const told: string[] = [];
    for (const [name, svg] of files) {
      const texts = await look(page, svg);
      readable(name, texts);
      told.push(...texts.map(({ text }) => text));
    }
    if (what.startsWith('names')) return;
    const all = new Set(told);
    for (const wire of stringWires(placement)) {
      expect(told.some((text) => text === wire.pin || text.split(', ').includes(wire.pin))).toBe(true);
      if (wire.finger !== null) expect(all.has(wire.finger)).toBe(true);
    }
  });

  it.each(cases.slice(0, 6))('every wire runs from its pad to its finger: %s', async (_, made) => {
    const { placement, files } = drawingsOf(made);
    await look(page, files[0]?.[1] ?? '');
    const lines = (await page.evaluate(
      `[...document.querySelectorAll('#bond-wires path')].map((p) => [p.dataset.wire, ...p.getAttribute('d').match(/-?[\\d.]+/g).map(Number)])`,
    )) as readonly (readonly [string, number, number, number, number])[];
    const bar = (await page.evaluate(
      `(() => { const r = document.querySelector('.scale-bar rect'); return [Number(r.dataset.length), 4 * Number(r.getAttribute('width'))]; })()`,
    )) as readonly [number, number];
    const scale = bar[1] / bar[0];
    const wires = stringWires(placement);
    expect(lines.map(([number]) => Number(number))).toEqual(wires.map((wire) => wire.number));
    const [first, start] = [wires[0], lines[0]];
    if (first === undefined || start === undefined) throw new Error('no wire');
    wires.forEach((wire, i) => {
      const [, x1 = 0, y1 = 0, x2 = 0, y2 = 0] = lines[i] ?? start;
      const back = (x: number, y: number) => [
        first.from.x + (x - start[1]) / scale,
        first.from.y - (y - start[2]) / scale,
      ];
      // The sheet has micrometres of its own: a thousandth of a millimetre at the drawing's scale.
      const slip = 0.003 / scale + 0.001 * Math.hypot(wire.to.x, wire.to.y);
      expect(Math.abs((back(x1, y1)[0] ?? 0) - wire.from.x)).toBeLessThan(slip);
      expect(Math.abs((back(x1, y1)[1] ?? 0) - wire.from.y)).toBeLessThan(slip);
      expect(Math.abs((back(x2, y2)[0] ?? 0) - wire.to.x)).toBeLessThan(slip);
      expect(Math.abs((back(x2, y2)[1] ?? 0) - wire.to.y)).toBeLessThan(slip);
    });
    const counts = (await page.evaluate(
      `['#bond-pads path', '#bond-fingers path', '.pad-1', '.finger-1'].map((s) => document.querySelectorAll(s).length)`,
    )) as number[];
    expect(counts).toEqual([placement.bondPads.length, placement.package?.fingers.length, 1, 1]);
  });

  it('findings are marked with the numbers of the list', async () => {
    const { placement, files } = drawingsOf(troubled);
    const { findingsOf } = await import('../../src/run.ts');
    const judged = { ...placement, findings: findingsOf(placement) };
    const texts = await look(page, bondSheets(judged).get('bond.svg') ?? '');
    readable('bond.svg', texts);
    const crossing = judged.findings.filter((f) => f.rule === 'wires-cross');
    expect(crossing.length).toBeGreaterThan(0);
    const listed = texts.map(({ text }) => text).filter((text) => / error: /.test(text));
    expect(listed.length).toBeGreaterThanOrEqual(crossing.length);
    const marks = (await page.evaluate(
      `[...new Set([...document.querySelectorAll('#bond-findings circle')].map((c) => c.dataset.finding))]`,
    )) as string[];
    for (const text of listed) expect(marks).toContain(text.split(' ')[0]);
    expect(files.length).toBe(1);
  });

  it('a name runs no script and makes no element', async () => {
    const { files } = drawingsOf(cases[8]?.[1] ?? troubled);
    let alerts = 0;
    page.on('dialog', (dialog) => {
      alerts++;
      void dialog.dismiss();
    });
    for (const [, svg] of files) {
      await look(page, svg);
      const kinds = (await page.evaluate(
        `[...new Set([...document.querySelectorAll('*')].flatMap((e) => [e.localName, ...e.getAttributeNames()]))]`,
      )) as string[];
      expect(kinds.filter((kind) => /^(on.*|script|foreignobject|style|image|a)$/i.test(kind))).toEqual([]);
    }
    expect(alerts).toBe(0);
  });
});
