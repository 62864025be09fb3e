/**
 * Shows what the words of a description come to: nets, sections, stand-ins on the vertical sides, what the library's
 * cells are when none is named, limits on silicon, and the defaults. Sources: ring-model sections 1, 3 and 5 for the
 * rules; 63 and 7.7 on silicon at factors 0.9 and 0.7 are 70 and 11 drawn by hand (the plain quotient of doubles says
 * 11.000000000000002 for the second); the defaults are those that the schema shows.
 */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { SIDES } from '../../src/geometry/side.ts';
import { drawnLeast, drawnMost } from '../../src/spec/lengths.ts';
import { STYLES } from '../../src/spec/ring.ts';
import { changed, footprint, landing, libraryWith, PLAIN_RING, problemsOf, ringOf, um } from './sample.ts';

const A0 = '{pin: A0, cell: io_bi}';
const ALL = PLAIN_RING.slice(PLAIN_RING.indexOf('sides:'));
const end = (text: string): readonly [string, string] => ['sides:\n', `${text}\nsides:\n`];
const BARE: readonly (readonly [string, string])[] = [
  ['stems: {width: 12, layers: [M5]}\n', ''],
  ['  toCell: 5\n', ''],
  ['  kinds:\n    plain: {along: 60, deep: 70, opening: {along: 50, deep: 60}}\n', ''],
];

describe('nets', () => {
  test('a supply pin is on the net of the lane that it feeds, a signal pin on its own', () => {
    const { left, bottom, right } = ringOf(PLAIN_RING).sides;
    expect(left.entries.map((entry) => entry.nets)).toEqual([['A0'], ['A1'], []]);
    expect(bottom.entries.map((entry) => entry.nets)).toEqual([['vdd'], ['vss']]);
    expect(right.entries.map((entry) => entry.nets)).toEqual([['vddio']]);
  });

  test('a supply pin may be named as often as it likes, a net that agrees may be written', () => {
    const ring = ringOf(
      changed(
        PLAIN_RING,
        [A0, '{pin: VDD, cell: pw_vdd, net: vdd}'],
        ['{cell: clamp}', '{pin: VDD, cell: pw_vdd}'],
      ),
    );
    expect(ring.sides.left.entries.map((entry) => entry.nets)).toEqual([['vdd'], ['A1'], ['vdd']]);
  });

  test('a landing that ties two lanes takes a net of either', () => {
    const library = libraryWith(
      footprint('tie', 'supply', 60, { landings: [landing(30, ['VSS', 'VSSIO'])] }),
    );
    const tie = (more: string): readonly string[] =>
      problemsOf(changed(PLAIN_RING, [A0, `{pin: G, cell: tie${more}}`]), { library });
    expect(tie('')).toEqual([]);
    expect(tie(', net: vssio')).toEqual([]);
    expect(tie(', net: vdd')).toEqual(['19:32 wrong-net']);
  });

  test('pins are listed in the order of the landings, whatever the order of writing', () => {
    const library = libraryWith(
      footprint('macro', 'macro', 200, { landings: [landing(50, [], 'west'), landing(150, [], 'east')] }),
    );
    const ring = ringOf(
      changed(PLAIN_RING, [A0, '{pins: {east: E, west: W}, nets: {east: e}, cell: macro}']),
      { library },
    );
    expect([ring.sides.left.entries[0]?.pins, ring.sides.left.entries[0]?.nets]).toEqual([
      ['W', 'E'],
      ['W', 'e'],
    ]);
  });
});

describe('cells', () => {
  test('another footprint stands in on the vertical sides only', () => {
    const text = changed(PLAIN_RING, [
      ALL,
      `sides:\n${SIDES.map((side) => `  ${side}: [{pin: ${side}, cell: io_side}]\n`).join('')}`,
    ]);
    expect(SIDES.map((side) => ringOf(text).sides[side].entries[0]?.footprint.name)).toEqual([
      'io_upright',
      'io_side',
      'io_upright',
      'io_side',
    ]);
  });

  test('fillers and break cells are all of the library, but not those that stand in for another', () => {
    const library = libraryWith(footprint('fill10', 'filler', 10, { onVertical: 'fill10_up' }));
    expect(ringOf(PLAIN_RING, { library }).fillers.map((cell) => cell.name)).toEqual(['fill10', 'fill1']);
    expect(ringOf(PLAIN_RING).fillers.map((cell) => cell.name)).toEqual(['fill10', 'fill1', 'fill10_up']);
    expect(ringOf(PLAIN_RING).breaks.map((cell) => cell.name)).toEqual(['brk5']);
    expect(ringOf(PLAIN_RING).corners.footprint.name).toBe('corner');
  });

  test('a break cell may be listed; it is in no section', () => {
    const ring = ringOf(changed(PLAIN_RING, ['{cell: clamp}', '{cell: brk5}']));
    expect(ring.sides.left.entries[2]?.section).toBe('');
    expect(ring.sides.left.entries[0]?.section).toBe('main');
  });

  test('a side that is left out is empty', () => {
    const ring = ringOf(changed(PLAIN_RING, ['  top:\n    - {pin: VSSIO, cell: pw_vssio}\n', '']));
    expect(ring.sides.top).toEqual({ style: 'inline', slack: 'shared', entries: [] });
  });

  test('a pad in its cell has no kind', () => {
    const ring = ringOf(
      changed(PLAIN_RING, [ALL, 'style: in-cell\nsides:\n  left: [{pin: A0, cell: io_full}]\n'], ...BARE),
    );
    expect([ring.sides.left.entries[0]?.pad, ring.stems.width, ring.stems.layers]).toEqual([null, 0, []]);
  });

  test('the first kind of pad is the one that is meant', () => {
    const big = '    big: {along: 90, deep: 70, opening: {along: 50, deep: 60}}\n';
    const ring = ringOf(
      changed(PLAIN_RING, ['  kinds:\n', `  kinds:\n${big}`], [A0, '{pin: A0, cell: io_bi, bondPad: plain}']),
    );
    expect(ring.sides.left.entries.map((entry) => entry.pad?.name)).toEqual(['plain', 'big', undefined]);
  });
});

describe('limits on silicon', () => {
  test('are divided by the shrink as it is written', () => {
    expect(drawnLeast(um(63), 0.9)).toBe(um(70));
    expect(drawnLeast(um(7.7), 0.7)).toBe(um(11));
    expect(7.7 / 0.7).toBeGreaterThan(11);
    expect([drawnLeast(um(70), 0.9), drawnMost(um(70), 0.9)]).toEqual([um(77.777778), um(77.777777)]);
    expect([drawnLeast(um(70), 1), drawnMost(um(70), 1)]).toEqual([um(70), um(70)]);
  });

  test('times the shrink they keep the limit, and one picometre less would not', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 500_000_000 }),
        fc.integer({ min: 1, max: 1000 }),
        (picometres, thousandths) => {
          const drawn = drawnLeast(um(picometres / 1e6), thousandths / 1000);
          const held = (length: number): boolean =>
            BigInt(length) * BigInt(thousandths) >= BigInt(picometres) * 1000n;
          expect([held(drawn), held(drawn - 1)]).toEqual([true, false]);
          const most = drawnMost(um(picometres / 1e6), thousandths / 1000);
          const kept = (length: number): boolean =>
            BigInt(length) * BigInt(thousandths) <= BigInt(picometres) * 1000n;
          expect([kept(most), kept(most + 1)]).toEqual([true, false]);
        },
      ),
    );
  });

  test("are the bond pads' and corners' limits; what is drawn stays", () => {
    const ring = ringOf(
      changed(
        PLAIN_RING,
        ['ring: sample', 'ring: sample\nshrink: 0.5'],
        [
          '  spacing: 10\n',
          '  spacing: 10\n  openingSpacing: 12\n  openingInset: 2\n  openingToSeal: {least: 3, most: 300}\n',
        ],
        end('corners: {clearance: 100, pitches: [{pads: 2, pitch: 90}]}\ncore: {width: 700, clearance: 20}'),
      ),
    );
    expect(ring.pads).toEqual({
      pitch: um(140),
      spacing: um(20),
      openingSpacing: um(24),
      openingInset: um(4),
      openingToSeal: { least: um(6), most: um(600) },
      toCell: um(5),
    });
    expect(ring.corners).toMatchObject({ clearance: um(200), pitches: [{ pads: 2, pitch: um(180) }] });
    expect([ring.edge.street, ring.core.width, ring.stems.width, ring.die?.width]).toEqual(
      [40, 700, 12, 2000].map(um),
    );
  });
});

describe('defaults', () => {
  test('are filled in at every place', () => {
    const ring = ringOf(changed(PLAIN_RING, ['die: {width: 2000, height: 1800}\n', '']));
    expect({
      ...ring,
      sides: undefined,
      library: undefined,
      place: undefined,
      sections: undefined,
    }).toMatchObject({
      name: 'sample',
      grid: um(0.005),
      shrink: 1,
      die: null,
      edge: { street: um(40), seal: 0, clearance: 0 },
      core: { width: 0, height: 0, clearance: 0 },
      pads: { openingSpacing: 0, openingInset: 0, openingToSeal: { least: 0, most: null } },
      rows: { overCircuit: 1, gap: um(10), first: 'outer', inset: 0 },
      stems: { width: um(12), spacing: um(10), layers: ['M5'] },
      corners: { clearance: 0, pitches: [] },
      numbering: { side: 'left', end: 'first', direction: 'counter-clockwise' },
      neighbours: [],
      waivers: [],
    });
    expect(ring.sides.left.entries[0]).toMatchObject({
      section: 'main',
      at: null,
      gap: 0,
      row: null,
      shift: 0,
      mirrored: false,
      pad: { name: 'plain', along: um(60), deep: um(70), opening: { along: um(50), deep: um(60) } },
    });
  });

  test('the row gap that follows the spacing on silicon is brought up to the grid', () => {
    const ring = ringOf(changed(PLAIN_RING, ['ring: sample', 'ring: sample\nshrink: 0.9']));
    expect([ring.pads.spacing, ring.rows.gap]).toEqual([um(11.111112), um(11.115)]);
  });

  test('any mix of styles by side resolves to what was asked', () => {
    fc.assert(
      fc.property(
        fc.record(
          Object.fromEntries(
            SIDES.map((side) => [side, fc.constantFrom('inline', 'staggered', 'over-circuit')]),
          ),
        ),
        (style) => {
          const outside = Object.values(style).some((word) => word !== 'over-circuit');
          const text = changed(
            PLAIN_RING,
            end(`style: ${JSON.stringify(style)}`),
            ...(outside ? [] : BARE.slice(0, 2)),
          );
          const { sides } = ringOf(text);
          expect(Object.fromEntries(SIDES.map((side) => [side, sides[side].style]))).toEqual(style);
        },
      ),
    );
    expect(STYLES).toHaveLength(4);
  });
});
