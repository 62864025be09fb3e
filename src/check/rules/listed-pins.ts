/** The pin list as it was asked for, against the pins that cells and bond pads have. */
import type { ListedPin } from '../../format/placement.ts';
import type { Hit, Rule } from '../finding.ts';
import { once } from '../once.ts';
import { few, hit, hitAt, names } from '../say.ts';
import { isVertical } from '../turn.ts';
import type { CellView, PadView, View } from '../view.ts';
import { eachCell } from './each.ts';

/**
 * The entry of each bond pad, where the list, the cells and their bond pads agree one after the other, as they do in a
 * file as it was written; undefined where they do not, or nothing is listed: then each pin is looked up.
 */
export const entriesInOrder = once((view): readonly (ListedPin | undefined)[] | undefined => {
  const { pins } = view.placement;
  if (pins === undefined) return undefined;
  const entries = new Array<ListedPin | undefined>(view.pads.length).fill(undefined);
  let next = 0;
  let pads = 0;
  for (const { cell, kind, pads: own } of view.cells) {
    if (cell.pins === undefined) continue;
    if (kind === null) return undefined;
    for (let k = 0; k < cell.pins.length; k++) {
      const entry = pins[next++];
      if (entry === undefined || entry.name !== cell.pins[k] || entry.landing !== kind.landings[k]?.name)
        return undefined;
      if (entry.section !== cell.section || entry.footprint !== cell.footprint) return undefined;
      if (!entry.bonded) continue;
      const pad = own[k]?.landing === k ? own[k] : own.find((p) => p.landing === k);
      if (pad === undefined || pad.pad.pin !== entry.name || pad.pad.net !== entry.net) return undefined;
      entries[pad.index] = entry;
      pads++;
    }
  }
  return next === pins.length && pads === view.pads.length ? entries : undefined;
});

/** The entries of each pin; undefined where the file lists none, as older ones do, or all agree. */
const listedPins = once((view): ReadonlyMap<string, readonly ListedPin[]> | undefined => {
  const { pins } = view.placement;
  if (pins === undefined || entriesInOrder(view) !== undefined) return undefined;
  const byName = new Map<string, ListedPin[]>();
  for (const pin of pins) {
    const own = byName.get(pin.name);
    if (own === undefined) byName.set(pin.name, [pin]);
    else own.push(pin);
  }
  return byName;
});

/** A pin where a cell lists it: at a landing, if the cell's footprint has one there. */
interface Holder {
  readonly cell: CellView;
  readonly landing: string | null;
}

/** Where cells list each pin. */
const holders = once((view): ReadonlyMap<string, readonly Holder[]> => {
  const byName = new Map<string, Holder[]>();
  for (const cell of view.cells)
    cell.cell.pins?.forEach((name, k) => {
      const holder = { cell, landing: cell.kind?.landings[k]?.name ?? null };
      const own = byName.get(name);
      if (own === undefined) byName.set(name, [holder]);
      else own.push(holder);
    });
  return byName;
});

const padsOfPins = once((view): ReadonlyMap<string, readonly PadView[]> => {
  const byName = new Map<string, PadView[]>();
  for (const pad of view.pads) {
    const own = byName.get(pad.pad.pin);
    if (own === undefined) byName.set(pad.pad.pin, [pad]);
    else own.push(pad);
  }
  return byName;
});

const times = (count: number): string => (count === 1 ? 'once' : `${count} times`);

/** Each listed pin stands in as many cells, and at as many bond pads, as it was asked for. */
function counted(view: View): readonly Hit[] {
  const listed = listedPins(view);
  if (listed === undefined) return [];
  const hits: Hit[] = [];
  for (const [name, entries] of listed) {
    const bonded = entries.filter((entry) => entry.bonded).length;
    const pads = padsOfPins(view).get(name)?.length ?? 0;
    const cells = holders(view).get(name)?.length ?? 0;
    const wrong: string[] = [];
    if (pads !== bonded)
      wrong.push(`asked for at ${bonded} bond pad${bonded === 1 ? '' : 's'} and has ${pads}`);
    if (cells !== entries.length)
      wrong.push(`listed ${times(entries.length)} and stands in ${cells} cell${cells === 1 ? '' : 's'}`);
    if (wrong.length > 0) hits.push(hit(`pin "${name}" is ${wrong.join(', and is ')}`, name));
  }
  return hits;
}

/** Whatever a cell or a bond pad names as its pin is listed. */
function unlisted(view: View): readonly Hit[] {
  const listed = listedPins(view);
  if (listed === undefined) return [];
  const hits: Hit[] = [];
  for (const [name, pads] of padsOfPins(view)) {
    const [pad] = pads;
    if (pad !== undefined && !listed.has(name))
      hits.push(hitAt(pad, `the bond pad of "${name}" is of a pin that was not asked for`, name));
  }
  for (const [name, [holder]] of holders(view))
    if (holder !== undefined && !listed.has(name) && !padsOfPins(view).has(name))
      hits.push(
        hitAt(
          holder.cell,
          `cell "${holder.cell.name}" has pin "${name}", which was not asked for`,
          name,
          holder.cell.name,
        ),
      );
  return hits;
}

/** Every bond pad is on the net that its pin was asked for on. */
function nets(view: View): readonly Hit[] {
  const listed = listedPins(view);
  if (listed === undefined) return [];
  const hits: Hit[] = [];
  for (const [name, pads] of padsOfPins(view)) {
    const entries = listed.get(name);
    if (entries === undefined) continue;
    for (const pad of pads)
      if (!entries.some((entry) => entry.net === pad.pad.net))
        hits.push(
          hitAt(
            pad,
            `the bond pad of "${name}" is on net "${pad.pad.net}"; the pin was asked for on ${names([...new Set(entries.map((entry) => entry.net))])}`,
            name,
          ),
        );
  }
  return hits;
}

/** Every pin stands in a cell of the footprint and section, and at the landing, that it was asked for. */
function cells(view: View): readonly Hit[] {
  const listed = listedPins(view);
  if (listed === undefined) return [];
  const hits: Hit[] = [];
  for (const [name, own] of holders(view)) {
    const open = [...(listed.get(name) ?? [])];
    if (open.length === 0) continue;
    const astray = own.filter((holder) => {
      const k = open.findIndex((entry) => differences(view, entry, holder).length === 0);
      if (k >= 0) open.splice(k, 1);
      return k < 0;
    });
    for (const holder of astray) {
      const entry = open.shift();
      if (entry === undefined) continue;
      hits.push(
        hitAt(
          holder.cell,
          `pin "${name}" stands in cell "${holder.cell.name}" and was asked for ${few(differences(view, entry, holder))}`,
          name,
          holder.cell.name,
        ),
      );
    }
  }
  return hits;
}

/** What an entry asks for and a holder does not give. */
function differences(view: View, entry: ListedPin, { cell, landing }: Holder): readonly string[] {
  const found: string[] = [];
  if (!isOf(view, cell, entry.footprint)) found.push(`in a ${entry.footprint}`);
  if (cell.cell.section !== entry.section) found.push(`in section "${entry.section}"`);
  if (landing !== entry.landing) found.push(`at landing "${entry.landing}"`);
  return found;
}

/** Whether a cell is of the footprint that was asked for, or of the one that stands for it on the vertical sides. */
export const isOf = (view: View, { cell, side }: CellView, asked: string): boolean =>
  asked === cell.footprint ||
  (isVertical(side) && view.kindNamed.get(asked)?.footprint.onVertical === cell.footprint);

/** A cell that a bond pad could join has a pin at each of its landings. */
const bareLandings = eachCell((c) => {
  const landings = c.kind?.landings ?? [];
  const pins = c.cell.pins?.length ?? 0;
  if (landings.length <= pins) return undefined;
  const bare = landings.slice(pins).map((landing) => landing.name);
  return hitAt(c, `cell "${c.name}" has no pin at landing ${names(bare)}`, c.name);
});

/** A file that does not say what was asked for cannot be held to it. */
function unstated({ placement }: View): readonly Hit[] {
  const missing = [
    ...(placement.pins === undefined ? ['pins'] : []),
    ...(placement.asked === undefined ? ['asked'] : []),
    ...(placement.rules.pads.kinds === undefined ? ['rules.pads.kinds'] : []),
  ];
  if (missing.length === 0) return [];
  return [
    hit(`the file does not hold ${few(missing)}, so that what was asked for cannot be compared`, ...missing),
  ];
}

export const LISTED_PIN_RULES: readonly Rule[] = [
  {
    name: 'pin-count',
    severity: 'error',
    protects: 'That every pin which was asked for is there, and bonded as often as it should be.',
    mend: 'Add what is missing or take out what is too much; where the pin list itself changed, change pins.',
    run: counted,
  },
  {
    name: 'pin-unlisted',
    severity: 'error',
    protects: 'That the chip has no pin which nobody asked for.',
    mend: 'Correct the name of the pin, or list it in pins.',
    run: unlisted,
  },
  {
    name: 'pin-net',
    severity: 'error',
    protects: 'That a bond pad carries the net which its pin was asked for on.',
    mend: 'Put the bond pad on the net that pins names.',
    run: nets,
  },
  {
    name: 'pin-cell',
    severity: 'error',
    protects: 'That a pin stands in the cell, the section and at the landing which it was asked for.',
    mend: 'Place the cell that pins names, in the section that it names.',
    run: cells,
  },
  {
    name: 'landing-bare',
    severity: 'error',
    protects: 'That no landing of a cell is left without a pin.',
    mend: 'Give the cell a pin for each landing, or take a cell that has none.',
    run: bareLandings,
  },
  {
    name: 'not-stated',
    severity: 'warning',
    protects:
      'That nobody takes a placement for checked against pins, cells or bond-pad sizes which it does not hold.',
    mend: 'Lay the ring again with this program, which writes them.',
    run: unstated,
  },
];
