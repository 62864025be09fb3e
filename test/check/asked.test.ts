/**
 * Shows: a placement is held to the pin list and the bond-pad sizes that were asked for, which it carries itself; one of
 * an earlier program, which carries neither, is still judged, and says so. Source: holes that a review found, on the
 * placement by hand.
 */
import { describe, expect, it } from 'vitest';
import { judge } from '../../src/check/judge.ts';
import type { Placement } from '../../src/format/placement.ts';
import { readPlacement } from '../../src/format/read.ts';
import { HAND_BUILT } from './hand-built.ts';
import type { Draft } from './operators/operator.ts';

const edited = (edit: (p: Draft) => void): Placement => {
  const draft: Draft = JSON.parse(JSON.stringify(HAND_BUILT));
  edit(draft);
  const read = readPlacement(JSON.stringify(draft));
  if (!read.ok) throw new Error(JSON.stringify(read.problems));
  return read.value;
};

const rulesOf = (placement: Placement): readonly string[] => judge(placement).map((f) => f.rule);

/** The pad of pin A, the third, with its cell. */
const padOfA = (p: Draft) => {
  const pad = p.bondPads.find((b) => b.pin === 'A');
  const cell = p.cells.find((c) => c.name === 'A');
  if (pad === undefined || cell === undefined) throw new Error('no pin A');
  return { pad, cell };
};

describe('bond-pad sizes', () => {
  it.each([
    ['shrunk', -0.5],
    ['grown', 0.5],
  ] as const)('a bond pad %s together with its opening is found, though every distance holds', (_, by) => {
    const placement = edited((p) => {
      const { pad } = padOfA(p);
      pad.height += 2 * by;
      pad.opening.height += 2 * by;
    });
    expect(rulesOf(placement)).toEqual(['pad-kind']);
  });

  it('a bond pad turned by a quarter is of another size', () => {
    const placement = edited((p) => {
      const { pad } = padOfA(p);
      [pad.opening.width, pad.opening.height] = [pad.opening.height, pad.opening.width];
      p.rules.pads.openingInset = 0;
    });
    expect(rulesOf(placement)).toContain('pad-kind');
  });
});

describe('the pin list', () => {
  it('misses a pin that was taken out of its cell with its bond pad and stem', () => {
    const placement = edited((p) => {
      const { cell } = padOfA(p);
      delete cell.pins;
      p.bondPads = p.bondPads.filter((b) => b.pin !== 'A');
      p.stems = p.stems.filter((s) => s.bondPad !== 3);
      for (const b of p.bondPads) if (b.number === 4) b.number = 3;
      for (const s of p.stems) if (s.bondPad === 4) s.bondPad = 3;
      p.nets = p.nets.filter((n) => n.name !== 'A');
    });
    expect(rulesOf(placement)).toEqual(expect.arrayContaining(['pin-count', 'landing-bare']));
  });

  it('knows the net of each pin', () => {
    const exchanged = edited((p) => {
      for (const b of p.bondPads) if (b.net === 'A' || b.net === 'B') b.net = b.net === 'A' ? 'B' : 'A';
    });
    expect(rulesOf(exchanged)).toEqual(['pin-net', 'pin-net']);
    const joined = edited((p) => {
      padOfA(p).pad.net = 'B';
    });
    expect(rulesOf(joined)).toContain('pin-net');
  });

  it('knows the cell and the section of each pin', () => {
    const placement = edited((p) => {
      const io = p.footprints.find((f) => f.name === 'io');
      if (io !== undefined) p.footprints.push({ ...io, name: 'weak' });
      padOfA(p).cell.footprint = 'weak';
    });
    expect(rulesOf(placement)).toEqual(['pin-cell', 'cell-asked']);
  });

  it('lets a pin without a bond pad be, where it was asked for so', () => {
    const placement = edited((p) => {
      p.bondPads = p.bondPads.filter((b) => b.pin !== 'B');
      p.stems = p.stems.filter((s) => s.bondPad !== 4);
      p.nets = p.nets.filter((n) => n.name !== 'B');
      const top = p.sides.find((s) => s.side === 'top');
      if (top !== undefined) top.bondPads = 0;
      const pin = p.pins?.find((x) => x.name === 'B');
      if (pin !== undefined) {
        pin.bonded = false;
        delete pin.kind;
      }
    });
    const errors = judge(placement).filter((f) => f.severity === 'error');
    // Without pads the top side's row stands nearer to the edge; nothing else is amiss.
    expect(new Set(errors.map((f) => f.rule))).toEqual(new Set(['row-place']));
  });
});

describe('a placement of an earlier program', () => {
  const old = (edit: (p: Draft) => void = () => {}) =>
    edited((p) => {
      delete p.pins;
      delete p.asked;
      delete p.rules.pads.kinds;
      edit(p);
    });

  it('is judged, and told not to be held to what it does not hold', () => {
    expect(judge(old()).map((f) => [f.rule, f.severity, f.items])).toEqual([
      ['not-stated', 'warning', ['pins', 'asked', 'rules.pads.kinds']],
    ]);
  });

  it('is still held to its landings', () => {
    const placement = old((p) => {
      delete padOfA(p).cell.pins;
    });
    expect(rulesOf(placement)).toContain('landing-bare');
  });
});
