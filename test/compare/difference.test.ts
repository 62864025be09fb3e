/**
 * Shows that the difference of a ring with itself is empty, that edits come back exactly, and that what only reorders
 * a file is no difference.
 *
 * Source of the values: the edits themselves, made on the placement by this file's own arithmetic; the side frames of
 * ring-model section 1 for places.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Difference, difference, isEmpty } from '../../src/compare/difference.ts';
import { differenceText } from '../../src/compare/text.ts';
import type { Placement } from '../../src/format/placement.ts';
import { SIDES, type Side } from '../../src/geometry/side.ts';
import { anyPlacement, sample } from '../layout/sample.ts';

type Cell = Placement['cells'][number];
type Pad = Placement['bondPads'][number];

/** The frames of ring-model section 1, from (s, t) to the die. */
const onDie = (side: Side, die: Placement['die'], s: number, t: number): { x: number; y: number } =>
  side === 'bottom'
    ? { x: s, y: t }
    : side === 'right'
      ? { x: die.width - t, y: s }
      : side === 'top'
        ? { x: die.width - s, y: die.height - t }
        : { x: t, y: die.height - s };
const inFrame = (side: Side, die: Placement['die'], x: number, y: number): { s: number; t: number } =>
  side === 'bottom'
    ? { s: x, t: y }
    : side === 'right'
      ? { s: y, t: die.width - x }
      : side === 'top'
        ? { s: die.width - x, t: die.height - y }
        : { s: die.height - y, t: x };

const withCell = (p: Placement, pin: string, edit: (cell: Cell) => Cell): Placement => ({
  ...p,
  cells: p.cells.map((cell) => (cell.pins?.[0] === pin ? edit(cell) : cell)),
});
const withPad = (p: Placement, pin: string, edit: (pad: Pad) => Pad): Placement => ({
  ...p,
  bondPads: p.bondPads.map((pad) => (pad.pin === pin ? edit(pad) : pad)),
});

/** Moves cell and pad along the side and inward. */
function shifted(p: Placement, pin: string, along: number, inward: number): Placement {
  const move = <T extends { readonly x: number; readonly y: number; readonly side: Side | null }>(
    item: T,
  ): T => {
    if (item.side === null) return item;
    const from = onDie(item.side, p.die, 0, 0);
    const to = onDie(item.side, p.die, along, inward);
    return { ...item, x: item.x + to.x - from.x, y: item.y + to.y - from.y };
  };
  return withPad(withCell(p, pin, move), pin, move);
}

/** A die that grew at its upper right, every side's things keeping their place in their side's frame. */
function grown(p: Placement, width: number, height: number): Placement {
  const die = { width: p.die.width + width, height: p.die.height + height };
  const centre = (box: Cell): { x: number; y: number } => ({
    x: box.x + box.width / 2,
    y: box.y + box.height / 2,
  });
  const moved = (side: Side, x: number, y: number): { x: number; y: number } => {
    const { s, t } = inFrame(side, p.die, x, y);
    return onDie(side, die, s, t);
  };
  return {
    ...p,
    die,
    cells: p.cells.map((cell) => {
      if (cell.side === null) return cell;
      const middle = centre(cell);
      const to = moved(cell.side, middle.x, middle.y);
      const by = { x: to.x - middle.x, y: to.y - middle.y };
      const origin = { x: cell.origin.x + by.x, y: cell.origin.y + by.y };
      return { ...cell, x: cell.x + by.x, y: cell.y + by.y, origin };
    }),
    bondPads: p.bondPads.map((pad) => ({ ...pad, ...moved(pad.side, pad.x, pad.y) })),
  };
}

const removed = (p: Placement, pin: string): Placement => ({
  ...p,
  cells: p.cells.filter((cell) => cell.pins?.[0] !== pin),
  bondPads: p.bondPads.filter((pad) => pad.pin !== pin),
});

/** What a difference says, without places, as sorted lines. */
const told = (d: Difference): readonly string[] =>
  [
    ...(d.die ? [`die ${d.die.by.width} ${d.die.by.height}`] : []),
    ...d.styles.map((s) => `style ${s.side} ${s.from} ${s.to}`),
    ...d.added.map((n) => `added ${n.pin}`),
    ...d.removed.map((n) => `removed ${n.pin}`),
    ...d.moved.map((m) => `moved ${m.pin} ${m.from.side} ${m.to.side} ${m.along} ${m.inward} ${m.distance}`),
    ...d.renumbered.map((r) => `number ${r.pin} ${r.from} ${r.to}`),
    ...d.changed.map((c) => `${c.what} ${c.pin} ${c.from} ${c.to}`),
    ...d.arcs.map((a) => `lane ${a.lane} ${a.recut ? 're-cut' : 'fed otherwise'}`),
    ...d.otherCells.map((o) => `cells ${o.footprint} ${o.from} ${o.to} ${o.moved}`),
    ...d.settings.map((s) => `setting ${s.path} ${s.from} ${s.to}`),
    ...d.footprints.added.map((name) => `footprint added ${name}`),
    ...d.footprints.removed.map((name) => `footprint removed ${name}`),
    ...d.footprints.changed.map((name) => `footprint changed ${name}`),
    ...d.findings.appeared.map((f) => `finding ${f.rule}`),
    ...d.findings.gone.map((f) => `gone ${f.rule}`),
    ...d.rest.map((field) => `rest ${field}`),
  ].sort();

describe('a ring with itself', () => {
  it('differs in nothing, whatever it is and however its lists are ordered', () => {
    fc.assert(
      fc.property(anyPlacement, (placement) => {
        const reordered: Placement = {
          ...placement,
          cells: [...placement.cells].reverse(),
          bondPads: [...placement.bondPads].reverse(),
          stems: [...placement.stems].reverse(),
          rails: [...placement.rails].reverse(),
          footprints: [...placement.footprints].reverse(),
          sides: [...placement.sides].reverse(),
        };
        const same = difference(placement, reordered);
        expect(told(same)).toEqual([]);
        expect(isEmpty(same)).toBe(true);
        expect(differenceText(same)).toBe('the same ring\n');
      }),
    );
  });
});

interface Edit {
  readonly name: string;
  /** Edits one pin; null where it does not apply. */
  readonly apply: (p: Placement, pin: string, n: number) => { placement: Placement; told: string[] } | null;
}

const padOf = (p: Placement, pin: string): Pad => {
  const pad = p.bondPads.find((candidate) => candidate.pin === pin);
  if (!pad) throw new Error(`no pad ${pin}`);
  return pad;
};
const cellOf = (p: Placement, pin: string): Cell => {
  const cell = p.cells.find((candidate) => candidate.pins?.[0] === pin);
  if (!cell) throw new Error(`no cell ${pin}`);
  return cell;
};

const EDITS: readonly Edit[] = [
  { name: 'removed', apply: (p, pin) => ({ placement: removed(p, pin), told: [`removed ${pin}`] }) },
  {
    name: 'moved',
    apply: (p, pin, n) => {
      const { side } = padOf(p, pin);
      const [along, inward] = [n % 7 === 0 ? 5 : (n % 7) * 3, (n % 3) * 4];
      return {
        placement: shifted(p, pin, along, inward),
        told: [
          `moved ${pin} ${side} ${side} ${along} ${inward} ${Math.round(Math.hypot(along, inward) * 1e6) / 1e6}`,
        ],
      };
    },
  },
  {
    name: 'renumbered',
    apply: (p, pin, n) => ({
      placement: withPad(p, pin, (pad) => ({ ...pad, number: 1000 + n })),
      told: [`number ${pin} ${padOf(p, pin).number} ${1000 + n}`],
    }),
  },
  {
    name: 'another cell',
    apply: (p, pin) => ({
      placement: withCell(p, pin, (cell) => ({ ...cell, footprint: 'other' })),
      told: [`cell ${pin} ${cellOf(p, pin).footprint} other`],
    }),
  },
  {
    name: 'another section',
    apply: (p, pin) => ({
      placement: withCell(p, pin, (cell) => ({ ...cell, section: 'analog' })),
      told: [`section ${pin} main analog`],
    }),
  },
  {
    name: 'another net',
    apply: (p, pin) => ({
      placement: withPad(p, pin, (pad) => ({ ...pad, net: 'other' })),
      told: [`net ${pin} ${padOf(p, pin).net} other`],
    }),
  },
  {
    name: 'another row',
    apply: (p, pin) => ({
      placement: withPad(p, pin, (pad) => ({ ...pad, row: 'inner' })),
      told: [`row ${pin} single inner`],
    }),
  },
  {
    name: 'a larger opening',
    apply: (p, pin) => {
      const { side, opening } = padOf(p, pin);
      const across = side === 'left' || side === 'right';
      const size = (w: number, h: number) => (across ? `${h} x ${w}` : `${w} x ${h}`);
      return {
        placement: withPad(p, pin, (pad) => ({
          ...pad,
          opening: { width: opening.width + 1, height: opening.height },
        })),
        told: [
          `opening ${pin} ${size(opening.width, opening.height)} ${size(opening.width + 1, opening.height)}`,
        ],
      };
    },
  },
  {
    name: 'another constant',
    apply: (p, pin) => {
      const { tied } = cellOf(p, pin);
      if (tied) return null;
      return {
        placement: withCell(p, pin, (cell) => ({ ...cell, tied: { A: 1 } })),
        told: [`tied inputs ${pin} none A 1`],
      };
    },
  },
];

describe('edits', () => {
  it('come back exactly, each and together, also on a die that grew', () => {
    const pins = sample().bondPads.map((pad) => pad.pin);
    const plan = fc.record({
      edits: fc.uniqueArray(
        fc.record({ pin: fc.constantFrom(...pins), edit: fc.constantFrom(...EDITS), n: fc.nat(500) }),
        { selector: (e) => e.pin },
      ),
      added: fc.boolean(),
      grow: fc.option(fc.tuple(fc.integer({ min: -10, max: 50 }), fc.integer({ min: -10, max: 50 }))),
      style: fc.boolean(),
    });
    fc.assert(
      fc.property(plan, ({ edits, added, grow, style }) => {
        const a = sample();
        let b = a;
        const expected: string[] = [];
        for (const { pin, edit, n } of edits) {
          const done = edit.apply(b, pin, n);
          if (!done) continue;
          b = done.placement;
          expected.push(...done.told);
        }
        if (added) {
          const [cell, pad] = [cellOf(a, 'sda'), padOf(a, 'sda')];
          b = {
            ...b,
            cells: [...b.cells, { ...cell, name: 'fresh', pins: ['fresh'] }],
            bondPads: [...b.bondPads, { ...pad, pin: 'fresh', cell: 'fresh', number: 99 }],
          };
          expected.push('added fresh');
        }
        if (grow && (grow[0] !== 0 || grow[1] !== 0)) {
          b = grown(b, grow[0], grow[1]);
          expected.push(`die ${grow[0]} ${grow[1]}`);
        }
        if (style) {
          b = { ...b, sides: b.sides.map((s) => (s.side === 'top' ? { ...s, style: 'staggered' } : s)) };
          expected.push('style top inline staggered');
        }
        const found = difference(a, b);
        expect(told(found)).toEqual(expected.sort());
        expect(isEmpty(found)).toBe(expected.length === 0);
        // The way back says the opposite.
        const back = difference(b, a);
        expect(back.removed.map((n) => n.pin).sort()).toEqual(found.added.map((n) => n.pin).sort());
        expect(back.moved.map((m) => [m.pin, m.distance]).sort()).toEqual(
          found.moved.map((m) => [m.pin, m.distance]).sort(),
        );
      }),
      { numRuns: 500 },
    );
  });

  it('tell a pin on another side with both places and the way between', () => {
    const a = sample();
    const b = withPad(a, 'sda', (pad) => ({ ...pad, side: 'bottom' as const, x: 300, y: 48 }));
    const [moved] = difference(
      a,
      withCell(b, 'sda', (cell) => ({ ...cell, side: 'bottom' })),
    ).moved;
    const { x, y } = padOf(a, 'sda');
    expect(moved).toMatchObject({
      pin: 'sda',
      from: { side: 'left', s: 620 - y, t: x, x, y },
      to: { side: 'bottom', s: 300, t: 48 },
      along: null,
      inward: null,
    });
    expect(moved?.distance).toBeCloseTo(Math.hypot(300 - x, 48 - y), 6);
  });

  it('tell pins of one name apart, and pins without a bond pad', () => {
    const a = sample();
    const twice: Placement = {
      ...a,
      bondPads: a.bondPads.map((p) => ({ ...p, pin: p.pin === 'scl' ? 'sda' : p.pin })),
    };
    expect(told(difference(twice, twice))).toEqual([]);
    // Of three pads of one supply the middle one goes: it alone is told, whatever the count behind the names says.
    const supply = (pins: readonly string[]) =>
      pins.map(() => ({ pin: 'VDD', net: 'VDD', footprint: 'power' }));
    const three = sample({ sides: { top: supply(['1', '2', '3']) } });
    const [, middle] = three.bondPads.filter((p) => p.pin === 'VDD' && p.side === 'top');
    const two: Placement = {
      ...three,
      bondPads: three.bondPads.filter((p) => p !== middle),
      cells: three.cells.filter((c) => c.side !== 'top' || c.x !== (middle?.x ?? 0) - 20),
    };
    const gone = difference(three, two);
    expect([gone.removed.length, gone.removed[0]?.place.x]).toEqual([1, middle?.x]);
    expect([gone.added, gone.moved]).toEqual([[], []]);
    const bare: Placement = { ...a, bondPads: a.bondPads.filter((p) => p.pin !== 'clk') };
    expect(told(difference(bare, bare))).toEqual([]);
    expect(difference(a, bare).renumbered).toEqual([{ pin: 'clk', from: 10, to: null }]);
    expect(difference(a, bare).added).toEqual([]);
  });
});

describe('what is no pin', () => {
  const a = sample();
  const rails = (closed: boolean, net: string, supplies: string[]): Placement => ({
    ...a,
    rails: [{ lane: 'VDD', net, closed, rectangles: [], supplies, cells: 1 }],
  });

  it('arcs: re-cut, or only fed otherwise, by the pins that feed them', () => {
    const before = rails(true, 'VDD', ['VDD_1']);
    expect(told(difference(before, rails(false, 'VDD', ['VDD_1'])))).toEqual(['lane VDD re-cut']);
    expect(told(difference(before, rails(true, 'VDD', ['VDD_1', 'sda'])))).toEqual([
      'lane VDD fed otherwise',
    ]);
    const cut: Placement = {
      ...before,
      partings: [{ cell: 'x', lanes: ['VDD'], between: ['main', 'analog'] }],
    };
    expect(told(difference(before, cut))).toEqual(['lane VDD re-cut']);
    const renamed: Placement = {
      ...before,
      cells: a.cells.map((c) => (c.name === 'VDD_1' ? { ...c, name: 'supply' } : c)),
      bondPads: a.bondPads.map((p) => (p.cell === 'VDD_1' ? { ...p, cell: 'supply' } : p)),
      rails: before.rails.map((r) => ({ ...r, supplies: ['supply'] })),
    };
    expect(told(difference(before, renamed))).toEqual(['cell name VDD_1 VDD_1 supply']);
  });

  it('cells without pins by footprint: their number and how many stand elsewhere', () => {
    const [filler] = a.cells.filter((c) => c.role === 'filler');
    if (!filler) throw new Error('no filler');
    const edit = (cells: readonly Cell[]) => told(difference(a, { ...a, cells }));
    const others = a.cells.filter((c) => c !== filler);
    expect(edit(others)).toEqual(['cells f-10 10 9 0']);
    expect(edit([...others, { ...filler, y: filler.y + 1 }])).toEqual(['cells f-10 10 10 1']);
    expect(edit([...a.cells, { ...filler, y: filler.y + 1 }])).toEqual(['cells f-10 10 11 0']);
    const corner: Cell = { ...filler, footprint: 'corner', role: 'corner', side: null, x: 400, y: 420 };
    const cornered = { ...a, cells: [...a.cells, corner] };
    const farther = {
      ...grown(a, 20, 30),
      cells: [...grown(a, 20, 30).cells, { ...corner, x: 420, y: 450 }],
    };
    expect(told(difference(cornered, farther))).toEqual(['die 20 30']);
  });

  it('settings by their path, footprints by name, findings by rule and items', () => {
    const pitch = { ...a, rules: { ...a.rules, pads: { ...a.rules.pads, pitch: 45 } } };
    expect(told(difference(a, pitch))).toEqual(['setting rules.pads.pitch 40 45']);
    const sections = {
      ...a,
      sections: a.sections.map((s) => ({ ...s, lanes: { ...s.lanes, VDD: 'VDDA' } })),
    };
    expect(told(difference(a, sections))).toEqual(['setting sections.main.lanes.VDD "VDD" "VDDA"']);
    const taller = {
      ...a,
      footprints: a.footprints.map((f) => (f.name === 'io' ? { ...f, height: 101 } : f)),
    };
    expect(told(difference(a, taller))).toEqual(['footprint changed io']);
    const found: Placement = {
      ...a,
      findings: [{ rule: 'overlap', severity: 'error', message: 'by 3 um', items: ['sda', 'scl'] }],
    };
    expect(told(difference(a, found))).toEqual(['finding overlap']);
    const again: Placement = {
      ...a,
      findings: [{ rule: 'overlap', severity: 'error', message: 'by 4 um', items: ['scl', 'sda'] }],
    };
    expect(told(difference(found, again))).toEqual(['rest findings']);
    expect(told(difference(a, { ...a, ring: 'other' }))).toEqual([]);
    expect(isEmpty(difference(a, { ...a, ring: 'other' }))).toBe(false);
    expect(told(difference(a, { ...a, stems: [] }))).toEqual(['rest stems']);
  });
});

describe('the text', () => {
  it('says each kind of change in a line, a pushed row in one', () => {
    const a = sample();
    let b = grown(removed(a, 'clk'), 50, 0);
    for (const pin of ['sda', 'scl', 'VDD_1']) b = shifted(b, pin, 5, 0);
    for (const pin of ['data[0]', 'data[1]'])
      b = withPad(b, pin, (pad) => ({ ...pad, number: pad.number + 3 }));
    b = withCell(b, 'adc in', (cell) => ({ ...cell, section: 'quiet\u001b[31m' }));
    expect(differenceText(difference(a, b))).toBe(
      [
        '1 pin removed, 3 pins moved, 2 pins renumbered, 1 pin changed',
        'ring',
        '  die: 600 x 620 -> 650 x 620 um, width +50, height 0',
        'removed',
        '  clk: number 10, top side at 240, 48 deep, cell io, section main',
        'moved',
        '  sda, scl, VDD_1: left side, +5 along',
        'renumbered',
        '  data[0], data[1]: +3 each, the first 4 -> 7',
        'changed',
        '  adc in: section main -> quiet\ufffd[31m',
        '',
      ].join('\n'),
    );
  });

  it('names sides and rows of a pin that crossed over', () => {
    expect(SIDES).toHaveLength(4);
    const a = sample();
    const b = withPad(a, 'sda', (pad) => ({ ...pad, side: 'bottom' as const, x: 300, y: 48 }));
    const text = differenceText(
      difference(
        a,
        withCell(b, 'sda', (cell) => ({ ...cell, side: 'bottom' })),
      ),
    );
    expect(text).toContain('  sda: left side at 190, 48 deep -> bottom side at 300, 48 deep, 457.633 um\n');
  });
});
