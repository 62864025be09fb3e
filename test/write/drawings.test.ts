/**
 * The drawings, looked at by tools that are not ours: xmllint (XML 1.0), rsvg-convert and a real Chromium (SVG
 * 1.1). At 20, 120 and 400 pads every name and number is there, readable and on no other; printed on A3 an x is
 * at least 1.2 mm high (letter size times 0.547, the x-height of DejaVu Sans, from its font file).
 */
import fc from 'fast-check';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Placement } from '../../src/format/placement.ts';
import { lay } from '../../src/run.ts';
import { detailSvg } from '../../src/write/detail-svg.ts';
import { filesOf } from '../../src/write/files.ts';
import { planRing } from '../../src/write/ring/plan.ts';
import { ringSvg } from '../../src/write/ring-svg.ts';
import { clean } from '../../src/write/text.ts';
import { X_HEIGHT } from '../helpers/lettering.ts';
import { randomRings } from '../helpers/random-ring.ts';
import { look, overlapping, type SeenText } from './looking.ts';
import { sample, spread } from './sample.ts';
import { complaints, openBrowser, without } from './tools.ts';

const STYLES = ['inline', 'staggered', 'over-circuit', 'in-cell'] as const;
const A3 = { width: 420, height: 297, border: 5 };

/** Findings at many places, two of them at one, one without a place, one waived. */
const findings = (die: Placement['die']): Placement['findings'] => [
  ...Array.from({ length: 30 }, (_, i) => ({
    rule: `rule-${i % 5}`,
    severity: (['error', 'warning', 'note'] as const)[i % 3] ?? 'note',
    message: `something is amiss at pad ${i + 1}, and it takes a whole sentence to say what`,
    items: [],
    x: i < 2 ? 95 : (die.width * ((i * 7) % 31)) / 31,
    y: i < 2 ? 400 : (die.height * ((i * 11) % 29)) / 29,
  })),
  { rule: 'count', severity: 'error', message: 'no control cell', items: [] },
  { rule: 'shift', severity: 'error', message: 'a pad is moved', items: [], x: 50, y: 50, waived: 'agreed' },
];

const INJECTIONS = [
  '</text><script>alert(1)</script>',
  '"><svg onload=alert(1)>',
  "' onmouseover='alert(1)",
  ']]>&amp;<!--',
  'a\u0000b\u001b[31mc\u007f',
  '\u202egnp.lru\u202c',
  '\u05e9\u05dc\u05d5\u05dd_1',
  '\u0645\u0631\u062d\u0628\u0627',
  '\u4fe1\u53f7\u8f93\u5165',
  'lone\ud800surrogate',
  '  two  blanks ',
  'url(#x);}*{fill:red}',
  '__proto__',
  '\u{1f6f0}\ufe0f',
];

const cases: readonly (readonly [string, () => Placement])[] = [
  ...[20, 120, 400].flatMap((count) =>
    STYLES.map((style): readonly [string, () => Placement] => [
      `${count} pads, ${style}`,
      () => {
        const placement = sample({ pads: spread(count), style });
        return { ...placement, findings: findings(placement.die) };
      },
    ]),
  ),
  ['1000 pads', () => sample({ pads: spread(1000), style: 'staggered' })],
  [
    'a style for each side',
    () =>
      sample({
        pads: { left: 8, bottom: 12, right: 20, top: 9 },
        style: { left: 'inline', bottom: 'staggered', right: 'over-circuit', top: 'in-cell' },
      }),
  ],
  ['one pad', () => sample({ pads: { left: 0, bottom: 0, right: 1, top: 0 }, style: 'inline' })],
  ['no pad', () => sample({ pads: { left: 0, bottom: 0, right: 0, top: 0 }, style: 'inline' })],
  ['a long die', () => sample({ pads: { left: 0, bottom: 90, right: 2, top: 60 }, style: 'staggered' })],
  ['a tall die', () => sample({ pads: { left: 70, bottom: 1, right: 60, top: 0 }, style: 'inline' })],
  [
    'names that inject',
    () =>
      sample({
        ring: INJECTIONS[0] ?? '',
        pads: spread(28),
        style: 'inline',
        sections: ['<b>&', '\u05d0\u05d1\u05d2'],
        pinName: (i) => `${INJECTIONS[i % INJECTIONS.length]}${i}`,
      }),
  ],
  [
    'names of 200 letters',
    () =>
      sample({
        ring: 'W'.repeat(200),
        pads: spread(60),
        style: 'staggered',
        sections: ['s'.repeat(200), '\u6570'.repeat(200)],
        pinName: (i) => (i % 5 === 0 ? '\u4fe1'.repeat(196) + String(i) : `pin ${i} `.repeat(20)),
      }),
  ],
];

const svgFiles = (placement: Placement) => [...filesOf(placement)].filter(([name]) => name.endsWith('.svg'));

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
  const one = { placement, files: svgFiles(placement) };
  drawn.set(made, one);
  return one;
}

describe('every drawing', () => {
  it.skipIf(without('xmllint')).each(cases)('is well-formed by xmllint: %s', (_, made) => {
    for (const [name, text] of drawingsOf(made).files)
      expect([name, complaints('xmllint', ['--noout', '-'], text)]).toEqual([name, '']);
  });

  it.skipIf(without('rsvg')).each(cases)('is drawn by rsvg-convert: %s', (_, made) => {
    for (const [name, text] of drawingsOf(made).files)
      expect([name, complaints('rsvg', ['--width', '500'], text)]).toEqual([name, '']);
  });

  it('has the same bytes every time', () => {
    const placement = sample({ pads: spread(40), style: 'staggered' });
    expect([...filesOf(placement)]).toEqual([...filesOf(placement)]);
  });

  it('uses each shape again: a thousand pads stay light', () => {
    const placement = sample({ pads: spread(1000), style: 'over-circuit' });
    const text = ringSvg(placement);
    expect(text.match(/<use /g)?.length).toBeGreaterThanOrEqual(placement.cells.length + 1000);
    expect(text.match(/id="ring-cell-shape-\d+"/g)?.length).toBe(placement.footprints.length);
    expect(text.match(/id="ring-pad-shape-\d+"/g)?.length).toBeLessThanOrEqual(6);
    expect(text.length).toBeLessThan(500_000);
  });
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
    for (const { text, left, top, right, bottom, size, stretch } of texts) {
      expect([name, text, size * X_HEIGHT >= 1.2]).toEqual([name, text, true]);
      const inside =
        left >= A3.border &&
        top >= A3.border &&
        right <= A3.width - A3.border &&
        bottom <= A3.height - A3.border;
      expect([name, text, inside, `${left} ${top} ${right} ${bottom}`].slice(0, 3)).toEqual([
        name,
        text,
        true,
      ]);
      // The plan never takes a text of the table's letters for narrower than the browser draws it.
      if (/^[ -~]+$/.test(text)) expect([name, text, stretch >= 0.995]).toEqual([name, text, true]);
    }
    expect([name, overlapping(texts)]).toEqual([name, []]);
  };

  it.each(cases)('no text is clipped, too small or on another: %s', async (_, made) => {
    const { placement, files } = drawingsOf(made);
    const told = new Map<string, string[]>();
    for (const [name, svg] of files) {
      const texts = await look(page, svg);
      readable(name, texts);
      if (!name.startsWith('detail'))
        for (const { pad, text } of texts) if (pad !== null) told.set(pad, [...(told.get(pad) ?? []), text]);
    }
    const plain = (text: string) => text.replace(/[\s\u00a0]/g, '');
    for (const { number, pin } of placement.bondPads) {
      const texts = told.get(String(number)) ?? [];
      expect(texts).toContain(String(number));
      expect(plain(texts.join(''))).toContain(plain(clean(pin)));
    }
  });

  it('the names of 400 pads stand at the ring itself; those of 1000 on sheets that it names', async () => {
    for (const style of STYLES) expect(planRing(sample({ pads: spread(400), style })).named).toBe(true);
    const many = sample({ pads: spread(1000), style: 'staggered' });
    const names = svgFiles(many).map(([name]) => name);
    expect(names).toEqual([
      'ring.svg',
      'detail.svg',
      'names-left.svg',
      'names-bottom.svg',
      'names-right.svg',
      'names-top.svg',
    ]);
    const said = (await look(page, ringSvg(many))).map(({ text }) => text).join(' ');
    for (const name of names.slice(2)) expect(said).toContain(name);
  });

  it('a name runs no script and makes no element', async () => {
    const placement = sample({
      pads: spread(28),
      style: 'inline',
      pinName: (i) => `${INJECTIONS[i % INJECTIONS.length]}${i}`,
    });
    let alerts = 0;
    page.on('dialog', (dialog) => {
      alerts++;
      void dialog.dismiss();
    });
    for (const [, svg] of svgFiles(placement)) {
      await look(page, svg);
      const kinds = (await page.evaluate(
        `[...new Set([...document.querySelectorAll('*')].flatMap((e) => [e.localName, ...e.getAttributeNames()]))]`,
      )) as string[];
      expect(kinds.filter((kind) => /^(on.*|script|foreignobject|style|image|a)$/i.test(kind))).toEqual([]);
    }
    expect(alerts).toBe(0);
  });

  it('every cell, pad, stem and arc is there, at its place', async () => {
    const placement = sample({ pads: spread(40), style: 'staggered' });
    await look(page, ringSvg(placement));
    const boxes = (await page.evaluate(`(() => {
      const frame = document.querySelector('#ring-die').getScreenCTM().inverse();
      const seen = {};
      for (const use of document.querySelectorAll('#ring-cells use, #ring-pads use')) {
        const key = use.dataset.pad === undefined ? 'cell ' + use.dataset.cell : 'pad ' + use.dataset.pad;
        const box = use.getBBox();
        const map = frame.multiply(use.getScreenCTM());
        const at = (x, y) => new DOMPoint(x, y).matrixTransform(map);
        const [a, b] = [at(box.x, box.y), at(box.x + box.width, box.y + box.height)];
        seen[key] = [Math.min(a.x, b.x), Math.min(a.y, b.y), Math.abs(a.x - b.x), Math.abs(a.y - b.y)];
      }
      return seen;
    })()`)) as Record<string, readonly [number, number, number, number]>;
    const near = (key: string, ...numbers: readonly number[]) => {
      const seen = boxes[key] ?? [];
      expect([key, seen.map((value) => Math.round(value * 100) / 100)]).toEqual([key, numbers]);
    };
    for (const { name, x, y, width, height } of placement.cells) near(`cell ${name}`, x, y, width, height);
    for (const { number, x, y, width, height } of placement.bondPads)
      near(`pad ${number}`, x - width / 2, y - height / 2, width, height);
    const counts = (await page.evaluate(
      `['#ring-stems rect', '#ring-rails .rail', '#ring-breaks [data-cell]'].map((s) => document.querySelectorAll(s).length)`,
    )) as number[];
    expect(counts).toEqual([placement.stems.length, placement.rails.length, placement.partings.length]);
  });

  it('each dimension of the details is exact, and its ends are edges or centres that are there', async () => {
    for (const style of STYLES) {
      const placement = sample({ pads: spread(60), style });
      const panels = await lookAtPanels(page, placement);
      expect(panels).toHaveLength(1);
      for (const panel of panels) {
        judgePanel(placement, panel);
        judgeSample(placement, panel);
      }
    }
  });

  /** Source: rings that the engine lays, of awkward libraries, several landings, deep cells, styles by side. */
  it('random rings are drawn as well: nothing clipped or covered, each dimension exact', async () => {
    const rings = fc.sample(randomRings, { numRuns: 24, seed: 11 });
    const laid = rings.flatMap((ring) => {
      const outcome = lay(ring);
      return outcome.ok ? [outcome.value] : [];
    });
    expect(laid.length).toBeGreaterThan(8);
    for (const placement of laid) {
      for (const [name, svg] of svgFiles(placement)) readable(name, await look(page, svg));
      const panels = await lookAtPanels(page, placement);
      expect(panels.map(({ style }) => style)).toEqual(
        STYLES.filter((style) => placement.sides.some((side) => side.style === style && side.bondPads > 0)),
      );
      for (const panel of panels) judgePanel(placement, panel);
    }
  });
});

/** The panels of `detail.svg`, the ends of each dimension mapped back to the die. */
async function lookAtPanels(page: Page, placement: Placement): Promise<readonly Panel[]> {
  await look(page, detailSvg(placement));
  return (await page.evaluate(`(() => {
    return [...document.querySelectorAll('.panel')].map((panel) => {
      const turned = panel.querySelector('[transform^=matrix]').getScreenCTM().inverse();
      return {
        side: panel.dataset.side,
        style: panel.dataset.style,
        scale: Number(panel.dataset.scale),
        dimensions: [...panel.querySelectorAll('path.dimension')].map((path) => {
          const [, x, y, way, to] = /^M([-\\d.]+) ([-\\d.]+)([HV])([-\\d.]+)/.exec(path.getAttribute('d'));
          const ends = [[+x, +y], way === 'H' ? [+to, +y] : [+x, +to]];
          const screen = path.getScreenCTM();
          return {
            name: path.dataset.dimension,
            value: Number(path.dataset.value),
            long: Math.hypot(ends[1][0] - ends[0][0], ends[1][1] - ends[0][1]),
            along: way === 'H' ? 's' : 't',
            ends: ends.map(([a, b]) => {
              const dot = new DOMPoint(a, b).matrixTransform(screen).matrixTransform(turned);
              return [dot.x, dot.y];
            }),
          };
        }),
      };
    });
  })()`)) as readonly Panel[];
}

interface Panel {
  readonly side: Placement['sides'][number]['side'];
  readonly style: Placement['sides'][number]['style'];
  readonly scale: number;
  readonly dimensions: readonly {
    readonly name: string;
    readonly value: number;
    readonly long: number;
    readonly along: 's' | 't';
    readonly ends: readonly (readonly [number, number])[];
  }[];
}

/** The die's axis along which a dimension of a side runs. */
const axisOf = (side: Panel['side'], along: 's' | 't'): 0 | 1 =>
  (side === 'bottom' || side === 'top') === (along === 's') ? 0 : 1;

/** Every edge and centre of the placement on one axis. */
function edges(placement: Placement, axis: 0 | 1): readonly number[] {
  const { die, rules, cells, stems, bondPads } = placement;
  const low = (box: { x: number; y: number }) => (axis === 0 ? box.x : box.y);
  const long = (box: { width: number; height: number }) => (axis === 0 ? box.width : box.height);
  const seal = rules.edge.street + rules.edge.seal;
  return [
    ...[0, rules.edge.street, seal].flatMap((t) => [t, long(die) - t]),
    ...[...cells, ...stems].flatMap((box) => [low(box), low(box) + long(box)]),
    ...bondPads.flatMap((pad) =>
      [pad, pad.opening].flatMap((size) => [-0.5, 0, 0.5].map((f) => low(pad) + f * long(size))),
    ),
  ];
}

/** Every dimension spans what it says, between edges or centres of the placement; nothing else is tighter. */
function judgePanel(placement: Placement, { side, style, scale, dimensions }: Panel): void {
  for (const { name, value, long, along, ends } of dimensions) {
    // The sheet's coordinates are written to a thousandth of a millimetre.
    expect([name, Math.abs(long - value * scale) < 0.002]).toEqual([name, true]);
    const axis = axisOf(side, along);
    for (const end of ends) {
      const nearest = Math.min(...edges(placement, axis).map((edge) => Math.abs(edge - (end[axis] ?? 0))));
      expect([name, nearest < 0.002 / scale]).toEqual([name, true]);
    }
  }
  const { pads, stems } = placement.rules;
  const limits = new Map([
    ['pitch', pads.pitch],
    ['spacing', pads.spacing],
    ['stem clearance', stems.spacing],
  ]);
  const shown = dimensions.flatMap(({ name, value }) => {
    const limit = limits.get(name);
    return limit === undefined ? [] : [value - limit];
  });
  const all = slacks(placement, style);
  expect(shown.length > 0).toBe(all.length > 0);
  if (all.length > 0) expect(Math.min(...shown)).toBeCloseTo(Math.min(...all), 5);
}

/** How far pitches, spacings and stem clearances of a style's sides stay above their limits, one by one. */
function slacks({ bondPads, sides, stems, rules }: Placement, style: Panel['style']): readonly number[] {
  const found: number[] = [];
  for (const { side } of sides.filter((one) => one.style === style)) {
    const along =
      side === 'left' || side === 'right' ? (['y', 'height'] as const) : (['x', 'width'] as const);
    const across = along[0] === 'y' ? (['x', 'width'] as const) : (['y', 'height'] as const);
    const own = bondPads.filter((pad) => pad.side === side).sort((a, b) => a[along[0]] - b[along[0]]);
    for (const row of ['single', 'outer', 'inner'] as const) {
      const pads = own.filter((pad) => pad.row === row);
      pads.slice(1).forEach((b, i) => {
        const a = pads[i] ?? b;
        const step = b[along[0]] - a[along[0]];
        found.push(step - rules.pads.pitch, step - (a[along[1]] + b[along[1]]) / 2 - rules.pads.spacing);
      });
    }
    if (found.length === 0) continue;
    for (const stem of stems) {
      for (const pad of own) {
        if (pad.number === stem.bondPad || !own.some(({ number }) => number === stem.bondPad)) continue;
        const beside = Math.abs(stem[across[0]] + stem[across[1]] / 2 - pad[across[0]]);
        if (beside >= (stem[across[1]] + pad[across[1]]) / 2) continue;
        const apart = Math.abs(stem[along[0]] + stem[along[1]] / 2 - pad[along[0]]);
        found.push(apart - (stem[along[1]] + pad[along[1]]) / 2 - rules.stems.spacing);
      }
    }
  }
  return found;
}

/** What the samples are known to have: pads 60 wide, and the rules' own gaps. */
function judgeSample(placement: Placement, { side, style, dimensions }: Panel): void {
  const values = new Map(dimensions.map(({ name, value }) => [name, value]));
  const { least } = placement.summary.pitches.find((one) => one.side === side) ?? {};
  const two = style === 'staggered' || style === 'over-circuit';
  expect(values.get('pitch')).toBe(two ? 2 * (least ?? 0) : least);
  expect(values.get('spacing')).toBe((values.get('pitch') ?? 0) - 60);
  expect(values.get('row gap')).toBe(two ? placement.rules.rows.gap : undefined);
  expect(values.get('stem clearance')).toBe(
    style === 'staggered' ? placement.rules.stems.spacing : undefined,
  );
  expect(values.get('stagger')).toBe(two ? least : undefined);
}
