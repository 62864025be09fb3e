/** Corruptions of what was asked for: pins lost, exchanged or added, bond pads of another size. */
import {
  type Draft,
  type DraftCell,
  type DraftPad,
  drop,
  feedsOf,
  footprintOf,
  type Operator,
  operator,
  styleOf,
} from './operator.ts';

/** Bond pads that no cell contains. */
const freePads = (p: Draft): DraftPad[] => p.bondPads.filter((b) => styleOf(p, b.side) !== 'in-cell');

/** Makes a bond pad and its opening larger on every side. */
function grow(pad: DraftPad, by: number): void {
  pad.width += 2 * by;
  pad.height += 2 * by;
  pad.opening.width += 2 * by;
  pad.opening.height += 2 * by;
}

/** Takes a bond pad out with its stem, and closes up the numbers as a careful script would. */
function take(p: Draft, pad: DraftPad): void {
  drop(p.bondPads, pad);
  p.stems = p.stems.filter((s) => s.bondPad !== pad.number);
  for (const item of p.bondPads) if (item.number > pad.number) item.number--;
  for (const item of p.stems) if (item.bondPad > pad.number) item.bondPad--;
  const side = p.sides.find((s) => s.side === pad.side);
  if (side !== undefined) side.bondPads--;
}

const signals = (p: Draft): DraftPad[] => p.bondPads.filter((b) => feedsOf(p, b).length === 0);

/** Cells that were asked for and have no pin. */
const pinless = (p: Draft): DraftCell[] =>
  p.cells.filter((c) => ['clamp', 'control', 'macro'].includes(c.role) && c.pins === undefined);

/** Pads whose pin no other pad bears. */
const single = (p: Draft): DraftPad[] =>
  p.bondPads.filter((b) => p.bondPads.every((o) => o === b || o.pin !== b.pin));

/** A package of one finger. */
const BARE_PACKAGE = (): NonNullable<Draft['package']> => ({
  name: 'bare',
  cavity: null,
  paddle: null,
  die: { x: 0, y: 0, rotation: 0 },
  fingers: [{ name: '1', x: 9000, y: 0, width: 100, angle: 0, tier: 1, side: 'right' }],
  bonds: [],
  unbonded: [],
  exchange: [],
  wires: { metal: 'gold', diameter: 25, foot: 60, pitch: 60, loops: [], drops: [], lead: null, currents: {} },
  limits: {
    span: { least: null, most: null },
    length: null,
    angle: null,
    wireSpacing: 0,
    padSpacing: 0,
    height: 0,
  },
});

export const PIN_OPERATORS: readonly Operator[] = [
  operator('a bond pad shrunk with its opening', 'pad-kind', (p, dice) => {
    const pad = dice.of(freePads(p));
    if (pad === undefined) return false;
    grow(pad, -p.units.grid);
    return true;
  }),
  operator('a bond pad grown with its opening', 'pad-kind', (p, dice) => {
    const pad = dice.of(freePads(p));
    if (pad === undefined) return false;
    grow(pad, p.units.grid);
    return true;
  }),
  operator('an opening shrunk within its bond pad', 'pad-kind', (p, dice) => {
    const pad = dice.of(freePads(p));
    if (pad === undefined) return false;
    pad.opening[dice.below(2) === 0 ? 'width' : 'height'] -= 2 * p.units.grid;
    return true;
  }),
  operator('a bond pad of a kind that the rules allow, but not to its pin', 'pad-kind', (p, dice) => {
    const pad = dice.of(freePads(p));
    const kind = p.rules.pads.kinds?.find((k) => k.name === p.pins?.find((x) => x.name === pad?.pin)?.kind);
    if (pad === undefined || kind === undefined) return false;
    const [along, deep] = [kind.along - 2 * p.units.grid, kind.deep - 2 * p.units.grid];
    const opening = {
      along: kind.opening.along - 2 * p.units.grid,
      deep: kind.opening.deep - 2 * p.units.grid,
    };
    p.rules.pads.kinds?.push({ name: 'small', along, deep, opening });
    grow(pad, -p.units.grid);
    return true;
  }),
  operator('a bond pad gone with its pin, its stem and its number', 'pin-count', (p, dice) => {
    const pad = dice.of(p.bondPads);
    const cell = p.cells.find((c) => c.name === pad?.cell);
    if (pad === undefined || cell?.pins === undefined) return false;
    take(p, pad);
    cell.pins = cell.pins.filter((pin) => pin !== pad.pin);
    if (cell.pins.length === 0) delete cell.pins;
    return true;
  }),
  operator('a bond pad gone that its pin was to have', 'pin-count', (p, dice) => {
    const pad = dice.of(p.bondPads);
    if (pad === undefined) return false;
    take(p, pad);
    return true;
  }),
  operator('a pin gone from the list', 'pin-unlisted', (p, dice) => {
    const pin = dice.of(p.pins?.filter((x) => p.pins?.every((y) => y === x || y.name !== x.name)) ?? []);
    if (pin === undefined || p.pins === undefined) return false;
    drop(p.pins, pin);
    return true;
  }),
  operator('a pin listed that nothing has', 'pin-count', (p, dice) => {
    const pin = dice.of(p.pins ?? []);
    if (pin === undefined) return false;
    p.pins?.push({ ...pin, name: 'nowhere' });
    return true;
  }),
  operator('a pin renamed in its cell and at its bond pad', 'pin-unlisted', (p, dice) => {
    const pad = dice.of(single(p));
    const cell = p.cells.find((c) => c.name === pad?.cell);
    if (pad === undefined || cell?.pins === undefined) return false;
    cell.pins = cell.pins.map((pin) => (pin === pad.pin ? 'elsewhere' : pin));
    pad.pin = 'elsewhere';
    return true;
  }),
  operator('the nets of two signals exchanged', 'pin-net', (p, dice) => {
    const [a, b] = [dice.of(signals(p)), dice.of(signals(p))];
    if (a === undefined || b === undefined || a.net === b.net) return false;
    [a.net, b.net] = [b.net, a.net];
    return true;
  }),
  operator('a signal put on the net of another', 'pin-net', (p, dice) => {
    const [a, b] = [dice.of(signals(p)), dice.of(signals(p))];
    if (a === undefined || b === undefined || a.net === b.net) return false;
    a.net = b.net;
    return true;
  }),
  operator('a cell with pins of another footprint just alike', 'pin-cell', (p, dice) => {
    const cell = dice.of(p.cells.filter((c) => c.pins !== undefined));
    const own = cell === undefined ? undefined : footprintOf(p, cell);
    if (cell === undefined || own === undefined) return false;
    p.footprints.push({ ...structuredClone(own), name: 'another', onVertical: null });
    cell.footprint = 'another';
    return true;
  }),
  operator('a cell with pins in another section', 'pin-cell', (p, dice) => {
    const cell = dice.of(p.cells.filter((c) => c.pins !== undefined));
    const section = dice.of(p.sections.filter((s) => s.name !== cell?.section));
    if (cell === undefined || section === undefined) return false;
    cell.section = section.name;
    return true;
  }),
  operator('the pins of two landings of a cell exchanged', 'pin-cell', (p, dice) => {
    const cell = dice.of(p.cells.filter((c) => c.pins?.length === 2 && c.pins[0] !== c.pins[1]));
    if (cell?.pins === undefined) return false;
    cell.pins.reverse();
    const pads = p.bondPads.filter((b) => b.cell === cell.name);
    const [a, b] = pads;
    if (a !== undefined && b !== undefined) [a.pin, b.pin] = [b.pin, a.pin];
    return true;
  }),
  operator('a cell without the pin of its landing', 'landing-bare', (p, dice) => {
    const cell = dice.of(p.cells.filter((c) => c.pins !== undefined));
    if (cell === undefined) return false;
    delete cell.pins;
    return true;
  }),
  operator('two pins exchanged with all that is theirs', 'cell-order', (p, dice) => {
    const [a, b] = [dice.of(single(p)), dice.of(single(p))];
    const [first, second] = [a, b].map((pad) => p.cells.find((c) => c.name === pad?.cell));
    if (a === undefined || b === undefined || first?.pins === undefined || second?.pins === undefined)
      return false;
    if (first === second) return false;
    [first.pins, second.pins] = [second.pins, first.pins];
    [a.pin, b.pin] = [b.pin, a.pin];
    [a.net, b.net] = [b.net, a.net];
    return true;
  }),
  operator('a cell without pins replaced by a filler', 'cell-order', (p, dice) => {
    const cell = dice.of(pinless(p));
    const own = cell === undefined ? undefined : footprintOf(p, cell);
    if (cell === undefined || own === undefined) return false;
    p.footprints.push({
      ...structuredClone(own),
      name: 'filling',
      role: 'filler',
      onVertical: null,
      perSection: null,
    });
    cell.footprint = 'filling';
    cell.role = 'filler';
    return true;
  }),
  operator('a cell asked for that does not stand', 'cell-order', (p, dice) => {
    const asked = dice.of(p.asked ?? []);
    if (asked === undefined) return false;
    p.asked?.splice(p.asked.indexOf(asked), 0, { ...asked, pins: ['nowhere'] });
    return true;
  }),
  operator('a cell asked for elsewhere along its side', 'cell-place', (p, dice) => {
    const asked = dice.of(p.asked ?? []);
    if (asked === undefined) return false;
    if (dice.below(2) === 0) asked.at = 7;
    else asked.gap = p.die.width + p.die.height;
    return true;
  }),
  operator('a bond pad asked for in the other row', 'cell-place', (p, dice) => {
    const pad = dice.of(p.bondPads.filter((b) => b.row !== 'single'));
    const asked = p.asked?.find((c) => c.side === pad?.side && c.pins?.includes(pad.pin));
    if (pad === undefined || asked === undefined) return false;
    asked.row = pad.row === 'outer' ? 'inner' : 'outer';
    return true;
  }),
  operator('a cell without pins in another section', 'cell-asked', (p, dice) => {
    const cell = dice.of(pinless(p));
    const section = dice.of(p.sections.filter((s) => s.name !== cell?.section));
    if (cell === undefined || section === undefined) return false;
    cell.section = section.name;
    return true;
  }),
  operator('an input held at the other constant, or let go', 'held-otherwise', (p, dice) => {
    const cell = dice.of(p.cells.filter((c) => Object.keys(c.tied ?? {}).length > 0));
    const [name, value] = Object.entries(cell?.tied ?? {})[0] ?? [];
    if (cell === undefined || name === undefined) return false;
    if (dice.below(2) === 0) delete cell.tied;
    else cell.tied = { ...cell.tied, [name]: value === 1 ? 0 : 1 };
    return true;
  }),
  operator('the fingers of two pins exchanged', 'pin-finger', (p, dice) => {
    const wired = p.pins?.filter((x) => x.fingers !== undefined) ?? [];
    if (wired.length === 0 || p.package === undefined) {
      // A ring without a package: pins that were to have wires there.
      const pin = dice.of(p.pins ?? []);
      if (pin === undefined) return false;
      pin.fingers = ['1'];
      return true;
    }
    const [a, b] = [dice.of(p.package.bonds), dice.of(p.package.bonds)];
    if (a === undefined || b === undefined || a.finger === b.finger) return false;
    const pinAt = (number: number): string | undefined => p.bondPads.find((x) => x.number === number)?.pin;
    if (pinAt(a.bondPad) === pinAt(b.bondPad)) return false;
    [a.finger, b.finger] = [b.finger, a.finger];
    return true;
  }),
  operator('a bond pad shifted otherwise than was asked for', 'cell-place', (p, dice) => {
    const asked = dice.of(p.asked?.filter((c) => c.pins?.length === 1) ?? []);
    if (asked === undefined || !p.bondPads.some((b) => b.pin === asked.pins?.[0])) return false;
    asked.shift = (asked.shift ?? 0) + p.units.grid;
    return true;
  }),
  operator('two signals wired to one finger, or a ring bonded so', 'finger-short', (p, dice) => {
    const [a, b] = [dice.of(signals(p)), dice.of(signals(p))];
    if (a === undefined || b === undefined || a.net === b.net) return false;
    p.package ??= BARE_PACKAGE();
    const [finger] = p.package.fingers;
    if (finger === undefined) return false;
    for (const { number } of [a, b]) {
      const own = p.package.bonds.find((bond) => bond.bondPad === number);
      if (own === undefined) p.package.bonds.push({ bondPad: number, finger: finger.name });
      else own.finger = finger.name;
    }
    return true;
  }),
  operator('a section without a pair', 'section-pairs', (p, dice) => {
    const section = dice.of(p.sections);
    if (section === undefined) return false;
    section.pairs = [];
    return true;
  }),
  operator('no list of cells asked for', 'not-stated', (p) => {
    delete p.asked;
  }),
  operator('no list of pins', 'not-stated', (p) => {
    delete p.pins;
  }),
  operator('no kinds of bond pad', 'not-stated', (p) => {
    delete p.rules.pads.kinds;
  }),
];
