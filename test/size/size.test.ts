/**
 * Shows: the styles side by side for the case worked by hand, with what binds, what a micrometre costs and what still
 * fits; styles that are refused and why; mixes; what a given die holds; errors that name what to relax and by how much.
 * Sources: arithmetic of ring-model section 3, spelled out beside each figure; placing the ring and counting.
 */
import { describe, expect, it } from 'vitest';
import type { Side } from '../../src/geometry/side.ts';
import { micrometres } from '../../src/geometry/units.ts';
import { lay } from '../../src/run.ts';
import { sizeRing } from '../../src/size/size.ts';
import type { Sized, Sizes } from '../../src/size/sizes.ts';
import { bindingText, sizesText } from '../../src/size/text.ts';
import type { Entry, Ring, Style } from '../../src/spec/ring.ts';
import { entry, footprint, library, PAD, ring, um } from '../helpers/ring.ts';

const SIDES = ['left', 'bottom', 'right', 'top'] as const;

interface Counts {
  readonly counts?: Partial<Record<Side, number>>;
  readonly onCorner?: boolean;
  readonly style?: Style;
}

/** The worked case: equal cells 35 wide, 40 a side unless said otherwise. */
function worked({ counts = {}, onCorner = false, style = 'inline' }: Counts, more: Partial<Ring> = {}): Ring {
  const cells = library().map((f) => (f.name === 'corner' ? { ...f, padOnTop: onCorner } : f));
  const [io] = cells;
  if (io === undefined) throw new Error('an empty library');
  const of = (side: Side): readonly Entry[] =>
    Array.from({ length: counts[side] ?? 40 }, (_, i) => entry(io, `${side}_${i}`));
  return ring(
    cells,
    style,
    { left: of('left'), bottom: of('bottom'), right: of('right'), top: of('top') },
    more,
  );
}

function sized(of: Ring, options: Parameters<typeof sizeRing>[1] = {}): Sizes {
  const outcome = sizeRing(of, options);
  if (!outcome.ok) throw new Error(outcome.problems.map((p) => p.message).join('; '));
  return outcome.value;
}

function named(sizes: Sizes, name: string): Sized {
  const style = sizes.styles.find((one) => one.name === name);
  if (style === undefined)
    throw new Error(`no style ${name} among ${sizes.styles.map((s) => s.name).join(', ')}`);
  return style;
}

const square = (length: number) => ({ width: length, height: length });

describe('the case worked by hand', () => {
  const sizes = sized(worked({}));
  it('the least dies of ring-model section 3: 3391, 2385 and 1905 um, 1880 where pads may overhang the corner cells', () => {
    expect(named(sizes, 'inline').die).toEqual(square(3391));
    expect(named(sizes, 'staggered').die).toEqual(square(2385));
    expect(named(sizes, 'over circuit, two rows').die).toEqual(square(1905));
    expect(named(sized(worked({ onCorner: true })), 'over circuit, two rows').die).toEqual(square(1880));
    expect(sizes.styles.find((style) => style.described)?.name).toBe('inline');
  });
  it('says what binds: the stem between inner pads sets the pitch of 40; without it the cells would, at 35', () => {
    const [staggered] = named(sizes, 'staggered').bindings;
    expect(staggered && bindingText(staggered)).toBe(
      'on every side the stem between inner pads sets the pitch of 40 (39 times); without it 35 (width of the cells)',
    );
    // 39 pitches of 40 against 39 of 35.
    expect(staggered?.without?.shorter).toEqual([195, 195, 195, 195]);
    const [inline] = named(sizes, 'inline').bindings;
    expect(inline && bindingText(inline)).toBe(
      'on every side the bond-pad pitch sets the pitch of 70 (39 times); without it 70 too (spacing of pad metal)',
    );
    const [over] = named(sizes, 'over circuit, two rows').bindings;
    expect(over && bindingText(over)).toBe(
      'on every side the width of the cells sets the pitch of 35 (39 times)',
    );
  });
  it('says what one micrometre costs', () => {
    const costs = (name: string) =>
      Object.fromEntries(named(sizes, name).costs.map((cost) => [cost.what, cost.width]));
    // 39 pitches; pad metal 61 + 10 makes the pitch 71 too; inline stems decide nothing; two edges.
    expect(costs('inline')).toEqual({ pitch: 39, 'pad width': 39, 'stem width': 0, edge: 2 });
    // b/2 + l/2 + q: half a micrometre for each of 39.
    expect(costs('staggered')).toEqual({ pitch: 0, 'pad width': 19.5, 'stem width': 19.5, edge: 2 });
  });
  it('says why a micrometre more cannot be laid: bond pads of one cell would then stand too near', () => {
    const twin = footprint('twin', 'macro', 140, {
      landings: [35, 105].map((at) => ({ name: `p${at}`, at: um(at), feeds: [], inside: null })),
    });
    const two = { ...entry(twin, 'A'), pins: ['A', 'B'], nets: ['A', 'B'] };
    const inline = named(sized(ring([...library(), twin], 'inline', { left: [two] })), 'inline');
    // The pads of a cell are 70 apart, the pitch and the metal ask for just that.
    expect(inline.costs.map(({ what, width, against }) => [what, width, against])).toEqual([
      ['pitch', null, ['cell "A" has bond pads A and B 1 um closer than the bond-pad pitch allows']],
      [
        'pad width',
        null,
        ['cell "A" has bond pads A and B 1 um closer than the spacing of pad metal allows'],
      ],
      ['stem width', 0, []],
      ['edge', 2, []],
    ]);
    const text = sizesText(sized(ring([...library(), twin], 'inline', { left: [two] })));
    expect(text).toMatch(/\* inline +impossible +impossible +0, 0 +2, 2/);
    expect(text).toContain('inline with 1 um more pitch: cell "A" has bond pads A and B 1 um closer');
  });
  it('of a short side too: what the corner cells take is not put down to the cells', () => {
    const short = sized(worked({ counts: { left: 3, bottom: 3, right: 2, top: 0 } }));
    expect(named(short, 'inline').bindings.map(bindingText)).toEqual([
      'on the left, bottom and right sides the bond-pad pitch sets the pitch of 70 (1 to 2 times); without it 70 too (spacing of pad metal)',
    ]);
  });
  it('areas and shares: 3.391 mm squared, and what lies inside the cells and their clearance', () => {
    const inline = named(sizes, 'inline');
    expect(inline.area.die).toBeCloseTo(3.391 ** 2, 12);
    // 60 + 70 + 3 + 180 of ring and 10 of clearance on each side.
    expect(inline.core).toEqual({ x: 323, y: 323, width: 3391 - 646, height: 3391 - 646 });
    expect(inline.ringShare).toBeCloseTo(1 - (2745 / 3391) ** 2, 12);
  });
});

describe('what still fits', () => {
  it('fills a side that is shorter than the one across, and no more', () => {
    const sizes = sized(worked({ counts: { top: 30 } }));
    const top = named(sizes, 'inline').sides.find((one) => one.side === 'top');
    // Ten pitches of 70 are over, and ten pads fit again.
    expect(top).toMatchObject({ pads: 30, slack: 700, more: 10, least: 3391 - 700 });
    expect(named(sizes, 'staggered').sides.find((one) => one.side === 'top')?.more).toBe(10);
  });
  it('on a given die: as many as placing finds room for, pads and supply pairs', () => {
    const base = library();
    const by = (name: string) => base.find((f) => f.name === name) ?? footprint(name, 'signal', 35);
    const pair = [entry(by('sup_vdd'), 'VDD'), entry(by('sup_vss'), 'VSS')];
    const pads = (count: number) => Array.from({ length: count }, (_, i) => entry(by('io'), `P${i}`));
    const die = { width: um(2000), height: um(1500) };
    const of = (bottom: readonly Entry[]) =>
      ring(base, 'inline', { left: pads(3).map((e, i) => ({ ...e, pins: [`L${i}`] })), bottom }, { die });
    const sizes = sized(of([...pair, ...pads(5)]));
    const bottom = sizes.given?.styles
      .find((s) => s.name === 'inline')
      ?.sides.find((s) => s.side === 'bottom');
    const lays = (count: number, pairs: number): boolean =>
      lay(
        of([
          ...pair,
          ...pads(5 + count),
          ...Array.from({ length: pairs }, (_, i) =>
            pair.map((e) => ({ ...e, pins: [`${e.pins[0]}${i}`] })),
          ).flat(),
        ]),
      ).ok;
    const more = bottom?.more ?? -1;
    const pairs = bottom?.pairs ?? -1;
    expect([lays(more, 0), lays(more + 1, 0)]).toEqual([true, false]);
    expect([lays(0, pairs), lays(0, pairs + 1)]).toEqual([true, false]);
    expect(more).toBeGreaterThan(5);
    expect(sizes.pair).toEqual(['vdd', 'vss']);
  });
  it('says by how much a given die is too small for ring or core, and what each side would hold alone', () => {
    const sizes = sized(worked({}, { core: { width: um(2300), height: um(100), clearance: um(10) } }), {
      die: { width: um(2500), height: um(2500) },
    });
    const of = (name: string) => sizes.given?.styles.find((one) => one.name === name);
    expect(of('inline')?.problems.map((p) => p.message)).toEqual([
      'the left side needs a die height of 3391 um, and it is 2500 um: 891 um too small',
      'the bottom side needs a die width of 3391 um, and it is 2500 um: 891 um too small',
    ]);
    // (2500 - 626 - 35) / 70 = 26.3, so 27 cells.
    expect(of('inline')?.sides.map((side) => side.holds)).toEqual([27, 27, 27, 27]);
    // 2300 and 2 (60 + 70 + 12 + 70 + 3 + 180 + 10) are 3110.
    expect(of('staggered')?.problems.map((p) => [p.code, p.message, p.mend])).toEqual([
      [
        'core-too-large',
        "the core with its clearance and the ring needs a die width of 3110 um, and the die's is 2500 um: 610 um too small",
        "relax the die's width to 3110 um or more, or make the core 610 um smaller in width",
      ],
    ]);
  });
});

describe('which styles', () => {
  it('refuses those that cells or rules do not allow, and says why', () => {
    const shallow = library().map((f) =>
      f.role === 'signal' ? { ...f, padOnTop: false, depth: um(100) } : f,
    );
    const [io] = shallow;
    if (io === undefined) throw new Error('an empty library');
    const of = (more: Partial<Ring>) =>
      Object.fromEntries(
        sized(ring(shallow, 'inline', { left: [entry(io, 'A')] }, more)).refused.map((r) => [
          r.name,
          r.reasons,
        ]),
      );
    expect(of({ pads: { ...worked({}).pads, openingToSeal: { least: um(0), most: um(60) } } })).toEqual({
      staggered: ['openings would lie 96 um from the seal ring, 36 um too far'],
      'over circuit, one row': ['no bond pad may lie on io'],
      'over circuit, two rows': [
        'no bond pad may lie on io',
        'the rows reach 152 um into the cells, deeper than io',
        'openings would lie 96 um from the seal ring, 36 um too far',
      ],
      'in cell': ['no bond pad is inside io'],
    });
    const noStem = { ...worked({}).stems, width: um(0) };
    const flat = { ...worked({}).pads, toCell: um(0) };
    expect(of({ stems: noStem, pads: flat }).staggered).toEqual(['no width of stems is given: say `--stem`']);
    const helped = sized(ring(shallow, 'inline', { left: [entry(io, 'A')] }, { stems: noStem, pads: flat }), {
      stem: um(12),
    });
    expect(helped.styles.map((style) => style.name)).toContain('staggered');
  });
  it('sizes cells that contain their pads in that style alone', () => {
    const inside = footprint('full', 'signal', 75, {
      landings: [
        {
          name: 'pad',
          at: um(37.5),
          feeds: [],
          inside: { t: um(40), along: um(60), deep: um(60), opening: { along: um(50), deep: um(50) } },
        },
      ],
    });
    const sizes = sized(
      ring([inside, ...library()], 'in-cell', { left: [{ ...entry(inside, 'A'), pad: null }] }),
    );
    expect(sizes.styles.map((style) => style.name)).toEqual(['in cell']);
    expect(sizes.refused.map((r) => r.reasons)).toEqual(Array(4).fill(['the bond pad is inside full']));
  });
  it('mixes by side where a single side decides an axis, as the same ring in that mix is laid', () => {
    const sizes = sized(worked({ counts: { bottom: 50, top: 30 } }));
    const mix = named(sizes, 'inline, bottom staggered');
    expect(mix.mixed).toBe(true);
    const plain = worked({ counts: { bottom: 50, top: 30 } });
    const laid = lay({
      ...plain,
      sides: { ...plain.sides, bottom: { ...plain.sides.bottom, style: 'staggered' } },
    });
    expect(laid.ok && laid.value.die).toEqual(mix.die);
    expect(mix.die.width).toBeLessThan(named(sizes, 'inline').die.width);
    expect(sized(worked({})).styles.some((style) => style.mixed)).toBe(false);
  });
  it('every die is the one that the ring is laid on', () => {
    for (const style of ['inline', 'staggered', 'over-circuit'] as const) {
      const of = worked({ counts: { left: 7, top: 0 }, style });
      const laid = lay(of);
      const own = sized(of).styles.find((one) => one.described);
      expect(laid.ok && laid.value.die).toEqual(own?.die);
      expect(laid.ok && laid.value.core).toEqual(own?.core);
      expect(laid.ok && laid.value.summary.limits).toEqual({
        width: own?.limits.width.by,
        height: own?.limits.height.by,
      });
    }
  });
});

it('prints a table that holds the die, the limits and the counts', () => {
  const text = sizesText(sized(worked({})));
  expect(text).toContain(
    'staggered: on every side the stem between inner pads sets the pitch of 40 (39 times); without it 35',
  );
  expect(text).toMatch(
    /\* inline +3391 x 3391 +bottom, left +11\.499 +34 % +1340 \(1439\) +2465 \(2601\) +5743 \(5951\)/,
  );
  expect(text).toContain('in cell: no bond pad is inside io');
});

describe('pins on no side', () => {
  const [io] = library();
  if (io === undefined) throw new Error('an empty library');
  const place = (line: number) => ({ file: 'ring.yaml', line, column: 5 });
  const cells = (count: number, sides: (i: number) => readonly Side[] = () => SIDES) =>
    Array.from({ length: count }, (_, i) => {
      const own = { ...entry(io, `P${i}`), pad: PAD, place: place(10 + i) };
      return { on: Object.fromEntries(sides(i).map((side) => [side, own])) };
    });
  const free = (count: number, more: Partial<Ring> = {}): Ring =>
    ring(library(), 'inline', {}, { order: { cells: cells(count), groups: [] }, ...more });

  it('are cut anew for each style: 160 of them as the worked case has them', () => {
    const sizes = sized(free(160));
    expect(sizes.sides).toBe('cut');
    expect(named(sizes, 'inline').die).toEqual(square(3391));
    expect(named(sizes, 'staggered').die).toEqual(square(2385));
    expect(named(sizes, 'inline').sides.map((side) => side.pads)).toEqual([40, 40, 40, 40]);
    // One more pad lengthens one pair of sides by a pitch.
    expect(named(sized(free(161)), 'inline').die).toEqual({ width: 3461, height: 3391 });
  });
  it('keep to a fixed width, an aspect and a given die, with the slack shared out', () => {
    const inWidth = named(
      sized(free(160, { dieWish: { width: um(2691), height: null, aspect: null, least: 'side' } })),
      'inline',
    );
    // 30 pads on the bottom and the top, 50 on the others: ten pitches more.
    expect(inWidth.die).toEqual({ width: 2691, height: 4091 });
    expect(inWidth.limits.width.by).toBe('given');
    // Two pads more on the wider sides leave 139 and 179 over; equal counts would leave 209 and 109.
    const laid = lay(free(160, { die: { width: um(3600), height: um(3500) } }));
    expect(laid.ok && laid.value.sides.map((side) => side.bondPads)).toEqual([39, 41, 39, 41]);
  });
  it('that cannot keep to their sides: an error names the group, the side and the cells', () => {
    const groups = [
      { name: 'P0', cells: [0], sides: ['left'] as const, whole: false, place: place(3) },
      { name: 'P20', cells: [20], sides: ['top'] as const, whole: false, place: place(4) },
      { name: 'P40', cells: [40], sides: ['bottom'] as const, whole: false, place: place(5) },
    ];
    const bound = (i: number): readonly Side[] => groups.find((g) => g.cells.includes(i))?.sides ?? SIDES;
    const outcome = sizeRing(free(60, { order: { cells: cells(60, bound), groups } }));
    expect(outcome.ok).toBe(false);
    const [problem] = outcome.ok ? [] : outcome.problems;
    expect(problem?.code).toBe('sides-cannot-be-kept');
    expect(problem?.message).toContain('at least one cell stands elsewhere (P');
    expect(problem?.mend).toMatch(/^let the group of P\d+ lie on the (left|bottom|right|top) side too/);
    expect([3, 4, 5]).toContain(problem?.place?.line);
  });
  it('that fit no die of the given limits: an error names the limit and by how much it must give', () => {
    const small = lay(free(160, { die: { width: um(3000), height: um(3500) } }));
    // 34 pads at the most on the bottom and the top, so 46 on the others: 626 + 45 x 70 + 35 = 3811.
    expect(small.ok ? [] : small.problems.map((p) => [p.code, p.message])).toEqual([
      [
        'die-too-small',
        'no cut of the order into sides fits a die of width 3000 um, height 3500 um: with a width of 3000 um the height has to be 3811 um (311 um more); with a height of 3500 um the width has to be 3321 um (321 um more); the least die of all is 3391 um by 3391 um',
      ],
    ]);
    const core = { width: um(3000), height: um(100), clearance: um(10) };
    const wide = lay(
      free(20, { core, dieWish: { width: um(3000), height: null, aspect: null, least: 'side' } }),
    );
    // 2 (60 + 180 + 10) of ring where no pads lie on the left and the right side, and the others hold all 20.
    expect(wide.ok ? [] : wide.problems.map((p) => [p.code, p.message, p.mend])).toEqual([
      [
        'core-too-large',
        'the core with its clearance and the ring needs a die width of 3500 um, and it is fixed at 3000 um: 500 um too small',
        'relax the width of `die` to 3500 um or more, or make the core 500 um smaller in width',
      ],
    ]);
    const laidAt = (width: number) =>
      lay(free(20, { core, dieWish: { width: um(width), height: null, aspect: null, least: 'side' } })).ok;
    expect([laidAt(3499.5), laidAt(3500)]).toEqual([false, true]);
    // In every style: 646, 810 and 500 of ring and clearance around 3000.
    const bound = sizeRing(
      worked({}, { core, dieWish: { width: um(3400), height: null, aspect: null, least: 'side' } }),
    );
    expect(bound.ok ? [] : bound.problems.map((p) => p.message)).toEqual(
      [
        ['inline', 3646, 246],
        ['staggered', 3810, 410],
        ['over circuit, one row; over circuit, two rows', 3500, 100],
      ].map(
        ([name, need, missing]) =>
          `${name}: the core with its clearance and the ring needs a die width of ${need} um, and it is fixed at 3400 um: ${missing} um too small`,
      ),
    );
  });
  it('that are bound to a side which a fixed extent is too short for: an error says how long it has to be', () => {
    const wish = (width: number) => ({
      width: um(width),
      height: null,
      aspect: null,
      least: 'side' as const,
    });
    const bound = (i: number): readonly Side[] => (i < 10 ? ['bottom'] : SIDES);
    const order = { cells: cells(20, bound), groups: [] };
    // Ten pads in a row, no pads beside them: 2 (60 + 180) + 9 x 70 + 35, and 2 (60 + 70 + 3 + 180 + 10) + 100 of height.
    const short = lay(free(20, { order, dieWish: wish(1000) }));
    expect(short.ok ? [] : short.problems.map((p) => [p.code, p.message])).toEqual([
      [
        'die-too-small',
        'no cut of the order into sides fits a die of width 1000 um: the width has to be 1145 um at the least (145 um more); the least die of all is 1145 um by 746 um',
      ],
    ]);
    expect(lay(free(20, { order, dieWish: wish(1145) })).ok).toBe(true);
  });
  it('a problem of all styles is told once', () => {
    const bound = (i: number): readonly Side[] =>
      i === 0 ? ['left'] : i === 20 ? ['top'] : i === 40 ? ['bottom'] : SIDES;
    const outcome = sizeRing(free(60, { order: { cells: cells(60, bound), groups: [] } }));
    expect(outcome.ok ? [] : outcome.problems.map((p) => [p.code, p.message.slice(0, 24)])).toEqual([
      ['sides-cannot-be-kept', 'counter-clockwise the si'],
    ]);
  });
  it('a group whose sides are in the way of a given die is named', () => {
    const groups = [
      {
        name: 'P0, P1',
        cells: [...Array(60).keys()],
        sides: ['left'] as const,
        whole: false,
        place: place(3),
      },
    ];
    const bound = (i: number): readonly Side[] => (i < 60 ? ['left'] : SIDES);
    const outcome = lay(
      free(160, { order: { cells: cells(160, bound), groups }, die: { width: um(3500), height: um(3500) } }),
    );
    expect(outcome.ok ? '' : outcome.problems[0]?.mend).toContain(
      'what holds the group of P0, P1: without that the die would do',
    );
  });
});

it('a shrunk process is counted on silicon', () => {
  const [plain, shrunk] = [sized(worked({})), sized(worked({}, { shrink: 0.9 }))].map((s) =>
    named(s, 'inline'),
  );
  expect(shrunk?.die).toEqual(plain?.die);
  expect(shrunk?.area.die).toBeCloseTo((3.391 * 0.9) ** 2, 12);
  expect((shrunk?.dies[2]?.whole ?? 0) > (plain?.dies[2]?.whole ?? 0)).toBe(true);
  expect(micrometres(um(3391))).toBe(3391);
});
