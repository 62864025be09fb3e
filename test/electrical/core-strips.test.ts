/**
 * Shows: core strips are closed, as wide as the current limit asks, joined to every core supply cell, and feed the core
 * past the rails; and each thing done to them is found.
 * Source: by hand from the limit; I R / 8 and the even share of a closed strip; our own list of what can go wrong.
 */
import { describe, expect, test } from 'vitest';
import type { CoreStrip, Placement } from '../../src/format/placement.ts';
import { findingsOf } from '../../src/run.ts';
import type { Draft as PlacementDraft } from '../check/operators/operator.ts';
import { assessmentOf, laidOf, runOf, withBlock } from './sample.ts';

/** More room around the core, and strips of M6, whose limit at the next hotter temperature, 105 degC, is 2.6 mA/um. */
const block = (more = ''): string => `electrical:
  celsius: 100
  core: {vdd: 90, avdd: 12}
  drop: 0.05
  coreStrips: {nets: [vdd, vss], layer: M6, spacing: 4, clearance: 2${more}}
`;
const laid = (text = block(), clearance = 60): Placement =>
  laidOf('fixtures/tide-gauge/ring.yaml', {
    'ring.yaml': (ring) =>
      withBlock(text)(ring).replace(
        'core: {width: 1000, height: 900, clearance: 20}',
        `core: {width: 900, height: 800, clearance: ${clearance}}`,
      ),
  });

const stripOf = (placement: Placement, net: string): CoreStrip => {
  const strip = placement.coreStrips?.find((one) => one.net === net);
  if (strip === undefined) throw new Error(`no strip of ${net}`);
  return strip;
};

describe('as they are laid', () => {
  const placement = laid();
  const assessment = assessmentOf(placement);

  test('one closed strip a net, from the ring inward, with its straps, and no finding', () => {
    expect(
      placement.coreStrips?.map((strip) => [strip.net, strip.rectangles.length, strip.straps.length]),
    ).toEqual([
      ['vdd', 4, 3],
      ['vss', 4, 4],
    ]);
    expect(placement.findings.filter((f) => f.severity === 'error').map((f) => f.rule)).not.toContain(
      'core-strip',
    );
  });

  test('the width is the largest current over the limit, on twice the grid', () => {
    for (const { net, most, width, limit } of assessment.strips?.figures ?? []) {
      expect(limit).toEqual({ celsius: 105, perMicrometre: 2.6 });
      const least = most / 2.6;
      expect(width).toBeGreaterThanOrEqual(least - 1e-9);
      expect(width).toBeLessThan(least + 4 * placement.units.grid);
      expect(stripOf(placement, net).width).toBe(width);
    }
  });

  test('no stretch carries more than what one feed gives one way, nor less than an even share', () => {
    const vdd = assessment.strips?.figures.find(({ net }) => net === 'vdd');
    // Three feeds, each in two directions.
    expect(vdd?.most).toBeGreaterThanOrEqual(90 / 6);
    expect(vdd?.most).toBeLessThan(90 / 2);
  });

  test('the rails are left to the outputs: a core lane carries nothing of the core any more', () => {
    const rail = assessment.arcs.find(({ arc }) => arc.net === 'vdd');
    expect(rail?.core).toBe(0);
    expect(rail?.strip).toBe(90);
    const without = assessmentOf(laid(block().replace(/ {2}coreStrips.*\n/, '')));
    expect(without.arcs.find(({ arc }) => arc.net === 'vdd')?.core).toBe(90);
  });

  test('a given width is kept, and held to the limit', () => {
    const narrow = laid(block(', width: 2'));
    expect(stripOf(narrow, 'vdd').width).toBe(2);
    const messages = narrow.findings.filter((f) => f.rule === 'core-strip').map((f) => f.message);
    expect(messages.some((m) => m.includes('may carry 2.6'))).toBe(true);
  });

  test('without room between ring and core it is a finding', () => {
    const tight = laid(block(), 10).findings.filter((f) => f.rule === 'core-strip');
    expect(tight.map((f) => f.message).join('\n')).toMatch(
      /ends [\d.]+ um from the ring, and the core's clearance is 10 um/,
    );
  });
});

describe('whatever is done to them is found', () => {
  const placement = laid();
  const change = (edit: (strips: Draft[]) => void): readonly string[] => {
    const coreStrips: CoreStrip[] = structuredClone([...(placement.coreStrips ?? [])]);
    edit(coreStrips as unknown as Draft[]);
    return findingsOf({ ...placement, coreStrips })
      .filter((f) => f.rule === 'core-strip')
      .map((f) => f.message);
  };
  interface Draft {
    net: string;
    rectangles: { layer: string; x: number; y: number; width: number; height: number }[];
    straps: { cell: string; layer: string; x: number; y: number; width: number; height: number }[];
  }
  /** One value of a strip's first rectangle or strap changed. */
  const set =
    <K extends 'rectangles' | 'straps'>(k: number, part: K, values: Partial<Draft[K][number]>) =>
    (strips: Draft[]): void => {
      Object.assign(strips[k]?.[part][0] ?? {}, values);
    };
  /** The same, by a shift. */
  const shift =
    (part: 'rectangles' | 'straps', key: 'x' | 'y' | 'width' | 'height', by: number, all = false) =>
    (strips: Draft[]): void => {
      const list = strips[0]?.[part] ?? [];
      for (const r of all ? list : list.slice(0, 1)) r[key] += by;
    };

  test('nothing done, nothing found', () => {
    expect(change(() => {})).toEqual([]);
  });

  test.each<readonly [string, (strips: Draft[]) => void, RegExp]>([
    ['a strip gone', (strips) => strips.splice(0, 1), /is to have a core strip, and has none/],
    ['a side of a strip gone', (strips) => strips[0]?.rectangles.splice(0, 1), /no closed strip/],
    ['a side shifted', shift('rectangles', 'x', 0.005), /no closed strip/],
    ['a side narrower', shift('rectangles', 'width', -0.005), /no closed strip/],
    ['a side on another layer', set(0, 'rectangles', { layer: 'M5' }), /no closed strip/],
    ['a strap gone', (strips) => strips[0]?.straps.splice(0, 1), /no strap joins the core strip of vdd/],
    ['a strap narrower', shift('straps', 'height', -1), /no strap joins/],
    ['a strap too short', shift('straps', 'width', -40), /no strap joins/],
    ["a strap on the rails' layer", set(0, 'straps', { layer: 'M5' }), /shorts to the rail of vss on M5/],
    ['a strap of another cell', set(0, 'straps', { cell: 'VDDIO' }), /on which none of that net lands/],
    ["a strap on the strips' layer", set(1, 'straps', { layer: 'M6' }), /short on M6/],
    ['a strip moved onto the cells', shift('rectangles', 'y', -30, true), /lies over the cell/],
    [
      'a strip moved onto the next one',
      shift('rectangles', 'y', 4, true),
      /nearer than 4 um on M6|short on M6/,
    ],
    ['a strip listed twice', (strips) => strips.push(...strips.slice(0, 1)), /vdd has two core strips/],
    ['the strips in another order', (strips) => strips.reverse(), /vdd does not lie within that of vss/],
    [
      'a strip of a net that there is not',
      (strips) => Object.assign(strips[0] ?? {}, { net: 'vd' }),
      /vd, which/,
    ],
    [
      'a strip of a net that is to have none',
      (strips) => Object.assign(strips[0] ?? {}, { net: 'avdd' }),
      /none/,
    ],
    ['no strap left', (strips) => strips[0]?.straps.splice(0), /nothing feeds it/],
  ])('%s', (_, edit, message) => {
    expect(change(edit).join('\n')).toMatch(message);
  });

  /** What an edit of the whole placement brings, by rule. */
  const told = (edit: (p: PlacementDraft) => void, rule = 'core-strip'): readonly string[] => {
    const draft = structuredClone(placement) as PlacementDraft;
    edit(draft);
    return findingsOf(draft as Placement)
      .filter((f) => f.rule === rule)
      .map((f) => f.message);
  };
  const asked = (p: PlacementDraft) => {
    const { electrical } = p.rules;
    if (electrical?.coreStrips == null) throw new Error('no strips are asked for');
    return electrical.coreStrips;
  };

  test('all straps gone, from the footprints too', () => {
    const messages = told((p) => {
      for (const f of p.footprints) delete f.straps;
      for (const strip of p.coreStrips ?? []) strip.straps = [];
    });
    expect(messages.filter((m) => m.endsWith('nothing feeds it'))).toHaveLength(2);
  });

  test('strips of another layer than is asked for', () => {
    const messages = told((p) => {
      for (const strip of p.coreStrips ?? []) {
        strip.layer = 'M9';
        for (const r of strip.rectangles) r.layer = 'M9';
      }
    });
    expect(messages).toContain('the core strip of vdd is on M9, and strips are asked for on M6');
  });

  test('strips beside the grid', () => {
    const shifted = (p: PlacementDraft): void => {
      for (const strip of p.coreStrips ?? []) for (const r of strip.rectangles) r.x += 0.001;
    };
    expect(told(shifted, 'off-grid')).toHaveLength(2);
    expect(told(() => {}, 'off-grid')).toEqual([]);
  });

  test('more clearance asked for than there is', () => {
    expect(told((p) => void Object.assign(asked(p), { clearance: 20 })).join('\n')).toMatch(
      /comes nearer to the cell \S+ and \d+ more than the 20 um that are asked for/,
    );
    expect(told((p) => void Object.assign(asked(p), { clearance: 2 }))).toEqual([]);
  });

  test('another order asked for, and a width that none has', () => {
    expect(told((p) => void asked(p).nets.reverse())).toContain(
      'the core strips are of vdd, vss from the ring inward, and vss, vdd are asked for',
    );
    expect(told((p) => void Object.assign(asked(p), { width: 30 })).join('\n')).toMatch(
      /vdd is [\d.]+ um wide, and 30 um are asked for/,
    );
  });

  test('a strip drawn too narrow for its current', () => {
    const messages = told((p) => {
      for (const strip of p.coreStrips ?? []) {
        const by = strip.width - 1;
        strip.width = 1;
        const [left, bottom, right, top] = strip.rectangles;
        if (left === undefined || bottom === undefined || right === undefined || top === undefined) return;
        left.width = bottom.height = right.width = top.height = 1;
        right.x = Number((right.x + by).toFixed(6));
        top.y = Number((top.y + by).toFixed(6));
      }
    });
    expect(messages.join('\n')).toMatch(/the core strip of vdd carries [\d.]+ mA\/um and may carry 2.6/);
    expect(messages.join('\n')).not.toMatch(/no closed strip/);
  });

  test('where nothing electrical is asked for, too', () => {
    const bare = (p: PlacementDraft): void => {
      delete p.rules.electrical;
    };
    expect(told(bare)).toEqual([]);
    const messages = told((p) => {
      bare(p);
      for (const strip of p.coreStrips ?? [])
        strip.rectangles = [{ layer: 'M6', x: 0, y: 0, width: p.die.width, height: p.die.height }];
    }).join('\n');
    expect(messages).toMatch(/no closed strip/);
    expect(messages).toMatch(/lies over the core/);
    expect(messages).toMatch(/lies over the cell/);
  });

  test('a strip that runs around the cells, or beside the core', () => {
    const framed = (x: number, y: number, width: number, height: number) => (p: PlacementDraft) => {
      const [strip] = p.coreStrips ?? [];
      if (strip === undefined) return;
      const layer = 'M6';
      strip.width = 1;
      strip.rectangles = [
        { layer, x, y, width: 1, height },
        { layer, x, y, width, height: 1 },
        { layer, x: x + width - 1, y, width: 1, height },
        { layer, x, y: y + height - 1, width, height: 1 },
      ];
    };
    const { die } = placement;
    expect(told(framed(1, 1, die.width - 2, die.height - 2)).join('\n')).toMatch(/or runs around them/);
    expect(told(framed(die.width / 2, die.height / 2, 10, 10)).join('\n')).toMatch(/lies over the core/);
    const { core } = placement;
    expect(told(framed(core.x - 10, core.y - 10, 9, 9)).join('\n')).toMatch(/does not run around the core/);
  });
});

describe('what is asked for must be possible', () => {
  const codes = (text: string): readonly string[] => {
    const outcome = runOf('fixtures/tide-gauge/ring.yaml', { 'ring.yaml': withBlock(text) });
    return outcome.kind === 'laid' ? [] : outcome.problems.map((p) => p.code);
  };

  test.each([
    ['a net of the I/O', block().replace('nets: [vdd, vss]', 'nets: [vddio]'), ['unknown-net']],
    ['a net without straps', block().replace('nets: [vdd, vss]', 'nets: [avdd, avdd]'), ['duplicate-name']],
    ['an unknown layer', block().replace('layer: M6', 'layer: M9'), ['unknown-layer']],
    ['a width off the grid', block(', width: 2.0053'), ['off-grid']],
    [
      'no core current',
      block().replace('  core: {vdd: 90, avdd: 12}\n', '').replace('  drop: 0.05\n', ''),
      ['useless-key', 'unknown-net', 'unknown-net'],
    ],
  ])('%s', (_, text, expected) => {
    expect([...codes(text)].sort()).toEqual([...expected].sort());
  });
});
