/** Corruptions of bond pads. */
import {
  along,
  type Draft,
  type DraftPad,
  drop,
  feedsOf,
  footprintOf,
  inward,
  isVertical,
  type Operator,
  operator,
  type Side,
  styleOf,
} from './operator.ts';

const SIDES: readonly Side[] = ['left', 'bottom', 'right', 'top'];

const inStyle = (p: Draft, ...styles: readonly string[]): DraftPad[] =>
  p.bondPads.filter((pad) => styles.includes(styleOf(p, pad.side) ?? ''));

/** Moves a bond pad along its side so that it stands that far from its landing, and records it. */
function shiftTo(pad: DraftPad, shift: number): void {
  along(pad.side, pad, shift - (pad.shift ?? 0));
  pad.shift = shift;
}

const others = (p: Draft): DraftPad[] => inStyle(p, 'inline', 'staggered', 'over-circuit');

export const PAD_OPERATORS: readonly Operator[] = [
  operator('a bond pad shifted along its side by one grid step', 'pad-landing', (p, dice) => {
    const pad = dice.of(p.bondPads);
    if (pad === undefined) return false;
    along(pad.side, pad, p.units.grid * (dice.below(2) === 0 ? 1 : -1));
    return true;
  }),
  operator('a bond pad outside or over circuit shifted inward by one grid step', 'pad-row', (p, dice) => {
    const pad = dice.of(others(p));
    if (pad === undefined) return false;
    inward(pad.side, pad, p.units.grid);
    return true;
  }),
  operator('a bond pad in its cell shifted inward by one grid step', 'pad-landing', (p, dice) => {
    const pad = dice.of(inStyle(p, 'in-cell'));
    if (pad === undefined) return false;
    inward(pad.side, pad, p.units.grid);
    return true;
  }),
  operator('a shift recorded that was not made', 'pad-landing', (p, dice) => {
    const pad = dice.of(p.bondPads);
    if (pad === undefined) return false;
    pad.shift = (pad.shift ?? 0) + p.units.grid;
    return true;
  }),
  operator('a bond pad shifted off its landing, and said so', 'pad-landing', (p, dice) => {
    const pad = dice.of(inStyle(p, 'over-circuit'));
    if (pad === undefined) return false;
    shiftTo(pad, (isVertical(pad.side) ? pad.height : pad.width) / 2 + p.units.grid);
    return true;
  }),
  operator('a bond pad shifted off its stem, and said so', 'stem-shape', (p, dice) => {
    const pad = dice.of(
      inStyle(p, 'inline', 'staggered').filter((b) => p.stems.some((s) => s.bondPad === b.number)),
    );
    if (pad === undefined) return false;
    shiftTo(pad, (isVertical(pad.side) ? pad.height : pad.width) / 2 + p.rules.stems.width);
    return true;
  }),
  operator('a bond pad gone with its stem and the numbers closed up', 'pin-without-pad', (p, dice) => {
    const pad = dice.of(others(p).filter((b) => p.bondPads.filter((o) => o.cell === b.cell).length === 1));
    if (pad === undefined) return false;
    drop(p.bondPads, pad);
    p.stems = p.stems.filter((s) => s.bondPad !== pad.number);
    for (const item of p.bondPads) if (item.number > pad.number) item.number--;
    for (const item of p.stems) if (item.bondPad > pad.number) item.bondPad--;
    return true;
  }),
  operator('a bond pad gone', 'numbering', (p, dice) => {
    const pad = dice.of(p.bondPads.filter((b) => b.number < p.bondPads.length));
    if (pad === undefined) return false;
    drop(p.bondPads, pad);
    return true;
  }),
  operator('a bond pad in its cell gone', 'pad-missing', (p, dice) => {
    const pad = dice.of(inStyle(p, 'in-cell'));
    if (pad === undefined) return false;
    drop(p.bondPads, pad);
    return true;
  }),
  operator('one of two bond pads of a cell gone', 'pad-missing', (p, dice) => {
    const pad = dice.of(p.bondPads.filter((b) => p.bondPads.filter((o) => o.cell === b.cell).length === 2));
    if (pad === undefined) return false;
    drop(p.bondPads, pad);
    return true;
  }),
  operator('all bond pads and stems gone', 'no-bond-pads', (p) => {
    p.bondPads = [];
    p.stems = [];
  }),
  operator('a bond pad doubled on its landing', 'pad-doubled', (p, dice) => {
    const pad = dice.of(p.bondPads);
    if (pad === undefined) return false;
    p.bondPads.push({ ...structuredClone(pad), number: p.bondPads.length + 1, pin: `${pad.pin}-again` });
    return true;
  }),
  operator('a bond pad doubled under its own pin', 'duplicate-pin', (p, dice) => {
    const pad = dice.of(p.bondPads.filter((b) => feedsOf(p, b).length === 0));
    if (pad === undefined) return false;
    p.bondPads.push({ ...structuredClone(pad), number: p.bondPads.length + 1 });
    return true;
  }),
  operator('the numbers of two bond pads exchanged', 'numbering', (p, dice) => {
    const [a, b] = [dice.of(p.bondPads), dice.of(p.bondPads)];
    if (a === undefined || b === undefined || a === b) return false;
    [a.number, b.number] = [b.number, a.number];
    return true;
  }),
  operator('a number given twice', 'duplicate-number', (p, dice) => {
    const [a, b] = [dice.of(p.bondPads), dice.of(p.bondPads)];
    if (a === undefined || b === undefined || a === b) return false;
    a.number = b.number;
    return true;
  }),
  operator('all numbers one higher', 'numbering', (p) => {
    for (const pad of p.bondPads) pad.number++;
    for (const stem of p.stems) stem.bondPad++;
  }),
  operator('a bond pad under another pin', 'pad-pin', (p, dice) => {
    const pad = dice.of(p.bondPads);
    if (pad === undefined) return false;
    pad.pin = 'elsewhere';
    return true;
  }),
  operator('the pins of two bond pads exchanged', 'pad-pin', (p, dice) => {
    const [a, b] = [dice.of(p.bondPads), dice.of(p.bondPads)];
    if (a === undefined || b === undefined || a === b) return false;
    [a.pin, b.pin] = [b.pin, a.pin];
    return true;
  }),
  operator('a signal under the pin of another', 'duplicate-pin', (p, dice) => {
    const signals = p.bondPads.filter((b) => feedsOf(p, b).length === 0);
    const [a, b] = [dice.of(signals), dice.of(signals)];
    if (a === undefined || b === undefined || a === b) return false;
    a.pin = b.pin;
    return true;
  }),
  operator('a supply pad on another net', 'supply-net', (p, dice) => {
    const pad = dice.of(p.bondPads.filter((b) => feedsOf(p, b).length > 0));
    const net = dice.of(p.nets.filter((n) => n.name !== pad?.net));
    if (pad === undefined || net === undefined) return false;
    pad.net = net.name;
    return true;
  }),
  operator('a signal pad on a power net', 'signal-net', (p, dice) => {
    const pad = dice.of(p.bondPads.filter((b) => feedsOf(p, b).length === 0));
    const net = dice.of(p.nets.filter((n) => n.kind !== 'signal'));
    if (pad === undefined || net === undefined) return false;
    pad.net = net.name;
    return true;
  }),
  operator('a supply cell whose landing feeds no lane', 'signal-net', (p, dice) => {
    const pad = dice.of(p.bondPads.filter((b) => feedsOf(p, b).length > 0));
    const cell = p.cells.find((c) => c.name === pad?.cell);
    const landings = cell === undefined ? undefined : footprintOf(p, cell)?.landings;
    if (landings === undefined) return false;
    for (const landing of landings) landing.feeds = [];
    return true;
  }),
  operator('a bond pad on a net that is not listed', 'unknown-name', (p, dice) => {
    const pad = dice.of(p.bondPads);
    if (pad === undefined) return false;
    pad.net = 'nowhere';
    return true;
  }),
  operator('a bond pad of a cell that is not placed', 'unknown-name', (p, dice) => {
    const pad = dice.of(p.bondPads);
    if (pad === undefined) return false;
    pad.cell = 'nowhere';
    return true;
  }),
  operator('a bond pad at a landing that its cell does not have', 'unknown-name', (p, dice) => {
    const pad = dice.of(p.bondPads);
    if (pad === undefined) return false;
    pad.landing = 'nowhere';
    return true;
  }),
  operator('a bond pad of another cell', 'pad-landing', (p, dice) => {
    const pad = dice.of(p.bondPads);
    const other = dice.of(p.bondPads.filter((b) => b.side === pad?.side && b.cell !== pad.cell));
    if (pad === undefined || other === undefined) return false;
    pad.cell = other.cell;
    pad.landing = other.landing;
    return true;
  }),
  operator('a bond pad listed on another side', 'pad-side', (p, dice) => {
    const pad = dice.of(p.bondPads);
    if (pad === undefined) return false;
    pad.side = SIDES[(SIDES.indexOf(pad.side) + 1 + dice.below(3)) % 4] ?? 'left';
    return true;
  }),
  operator('a bond pad of a corner cell', 'pad-side', (p, dice) => {
    const pad = dice.of(p.bondPads);
    const corner = dice.of(p.cells.filter((c) => c.role === 'corner'));
    if (pad === undefined || corner === undefined) return false;
    pad.cell = corner.name;
    return true;
  }),
  operator('a bond pad in another row', 'pad-row', (p, dice) => {
    const pad = dice.of(p.bondPads);
    if (pad === undefined) return false;
    pad.row = dice.of((['single', 'outer', 'inner'] as const).filter((r) => r !== pad.row)) ?? 'single';
    return true;
  }),
  operator('a bond pad widened into the next', 'pad-spacing', (p, dice) => {
    const pad = dice.of(
      p.bondPads.filter((b) => p.bondPads.some((o) => o !== b && o.side === b.side && o.row === b.row)),
    );
    if (pad === undefined) return false;
    const row = p.bondPads.filter((o) => o !== pad && o.side === pad.side && o.row === pad.row);
    const nearest = Math.min(...row.map((o) => Math.abs(o.x - pad.x) + Math.abs(o.y - pad.y)));
    pad[isVertical(pad.side) ? 'height' : 'width'] = 2 * nearest;
    return true;
  }),
  operator('a bond pad made narrower than its opening', 'opening-inset', (p, dice) => {
    const pad = dice.of(p.bondPads);
    if (pad === undefined) return false;
    pad.width = pad.opening.width - 2 * p.units.grid;
    return true;
  }),
  operator('an opening widened beyond its inset', 'opening-inset', (p, dice) => {
    const pad = dice.of(p.bondPads);
    if (pad === undefined) return false;
    pad.opening.height = pad.height - 2 * p.rules.pads.openingInset + 2 * p.units.grid;
    return true;
  }),
  operator('a bond pad in its cell of another size', 'pad-in-cell', (p, dice) => {
    const pad = dice.of(inStyle(p, 'in-cell'));
    if (pad === undefined) return false;
    if (dice.below(2) === 0) pad.width += 2 * p.units.grid;
    else pad.opening.width -= 2 * p.units.grid;
    return true;
  }),
  operator('rows over circuit moved beyond the cells', 'pad-depth', (p) => {
    const pads = inStyle(p, 'over-circuit');
    if (pads.length === 0) return false;
    p.rules.rows.inset += 400;
    for (const pad of pads) inward(pad.side, pad, 400);
    return true;
  }),
  operator('a footprint under bond pads that allows none on top', 'pad-on-cell', (p, dice) => {
    const pad = dice.of(inStyle(p, 'over-circuit'));
    const cell = p.cells.find((c) => c.name === pad?.cell);
    const f = cell === undefined ? undefined : footprintOf(p, cell);
    if (f === undefined) return false;
    f.padOnTop = false;
    return true;
  }),
];
