/** A placement as the page asks for it: things by name and number, what belongs to what, and where each stands. */
import { findingRank } from '../format/finding-order.ts';
import type { BondPad, Finding, PlacedCell, Placement, Rail, Stem } from '../format/placement.ts';
import { around, type Box, boxAround, lies, type Side } from './geometry.ts';
import { exact } from './numbers.ts';
import type { Thing } from './thing.ts';

export interface NumberedFinding {
  readonly number: number;
  readonly finding: Finding;
}

export interface Model {
  readonly placement: Placement;
  readonly pads: ReadonlyMap<number, BondPad>;
  readonly cells: ReadonlyMap<string, PlacedCell>;
  readonly kinds: ReadonlyMap<string, 'signal' | 'supply' | 'ground'>;
  readonly padsOfNet: ReadonlyMap<string, readonly BondPad[]>;
  readonly padsOfCell: ReadonlyMap<string, readonly BondPad[]>;
  readonly padsOfPin: ReadonlyMap<string, readonly BondPad[]>;
  readonly stems: ReadonlyMap<number, readonly Stem[]>;
  readonly findings: readonly NumberedFinding[];
}

export function modelOf(placement: Placement): Model {
  return {
    placement,
    pads: new Map(placement.bondPads.map((pad) => [pad.number, pad])),
    cells: new Map(placement.cells.map((cell) => [cell.name, cell])),
    kinds: new Map(placement.nets.map((net) => [net.name, net.kind])),
    padsOfNet: grouped(placement.bondPads, (pad) => pad.net),
    padsOfCell: grouped(placement.bondPads, (pad) => pad.cell),
    padsOfPin: grouped(placement.bondPads, (pad) => pad.pin),
    stems: grouped(placement.stems, (stem) => stem.bondPad),
    findings: numbered(placement.findings),
  };
}

function grouped<K, T>(list: readonly T[], key: (item: T) => K): ReadonlyMap<K, readonly T[]> {
  const groups = new Map<K, T[]>();
  for (const item of list) {
    const group = groups.get(key(item));
    if (group === undefined) groups.set(key(item), [item]);
    else group.push(item);
  }
  return groups;
}

/** Numbered as in `ring.svg`: gravest first, waived ones last. */
function numbered(findings: readonly Finding[]): readonly NumberedFinding[] {
  return findings
    .toSorted((a, b) => findingRank(a) - findingRank(b))
    .map((finding, i) => ({ number: i + 1, finding }));
}

export const findingOf = (model: Model, number: number): Finding | undefined =>
  model.findings[number - 1]?.finding;

export const railOf = (model: Model, at: number): Rail | undefined => model.placement.rails[at];

export const sectionOf = (model: Model, pad: BondPad): string | undefined =>
  model.cells.get(pad.cell)?.section ?? undefined;

export const railsOfNet = (model: Model, net: string): readonly number[] =>
  model.placement.rails.flatMap((rail, at) => (rail.net === net ? [at] : []));

/** Whether a thing is in the ring. */
export function has(model: Model, thing: Thing): boolean {
  switch (thing.kind) {
    case 'pad':
      return model.pads.has(thing.number);
    case 'cell':
      return model.cells.has(thing.name);
    case 'net':
      return model.padsOfNet.has(thing.name) || railsOfNet(model, thing.name).length > 0;
    case 'section':
      return model.placement.sections.some(({ name }) => name === thing.name);
    case 'rail':
      return railOf(model, thing.at) !== undefined;
    case 'finding':
      return findingOf(model, thing.number) !== undefined;
  }
}

/** A thing in a word or two. */
export function nameOf(model: Model, thing: Thing): string {
  switch (thing.kind) {
    case 'pad':
      return `pad ${thing.number} ${model.pads.get(thing.number)?.pin ?? ''}`.trimEnd();
    case 'rail': {
      const rail = railOf(model, thing.at);
      return rail === undefined ? 'rail' : `rail ${rail.lane}, net ${rail.net}`;
    }
    case 'finding':
      return `finding ${thing.number}`;
    default:
      return `${thing.kind} ${thing.name}`;
  }
}

export const padBox = (pad: BondPad): Box => boxAround(pad, pad);

/** Where a thing stands; undefined where it has no place of its own. */
export function boxOf(model: Model, thing: Thing): Box | undefined {
  const { placement } = model;
  switch (thing.kind) {
    case 'pad': {
      const pad = model.pads.get(thing.number);
      return pad && padBox(pad);
    }
    case 'cell':
      return model.cells.get(thing.name);
    case 'net':
      return around([
        ...(model.padsOfNet.get(thing.name) ?? []).map(padBox),
        ...railsOfNet(model, thing.name).flatMap((at) => railOf(model, at)?.rectangles ?? []),
      ]);
    case 'section':
      return around(placement.cells.filter((cell) => cell.section === thing.name));
    case 'rail':
      return around(railOf(model, thing.at)?.rectangles ?? []);
    case 'finding': {
      const finding = findingOf(model, thing.number);
      if (finding === undefined) return undefined;
      if (finding.x !== undefined && finding.y !== undefined)
        return boxAround({ x: finding.x, y: finding.y }, { width: 0, height: 0 });
      return around(thingsNamed(model, finding.items).flatMap((item) => boxOf(model, item) ?? []));
    }
  }
}

/** The things that a finding's items name: pins (by their pads), cells, sections, nets; others are passed over. */
export function thingsNamed(model: Model, items: readonly string[]): readonly Thing[] {
  return items.flatMap((item): Thing[] => {
    const [pad] = model.padsOfPin.get(item) ?? [];
    if (pad !== undefined) return [{ kind: 'pad', number: pad.number }];
    const thing = (['cell', 'section', 'net'] as const)
      .map((kind): Thing => ({ kind, name: item }))
      .find((candidate) => has(model, candidate));
    return thing === undefined ? [] : [thing];
  });
}

/** The findings that name a pad's pin or cell, or a cell. */
export function findingsAbout(model: Model, names: readonly string[]): readonly NumberedFinding[] {
  return model.findings.filter(({ finding }) => finding.items.some((item) => names.includes(item)));
}

const along = (pad: BondPad): number => (lies(pad.side) ? pad.x : pad.y);

/** The pads of a side in the direction of the ring (counter-clockwise). */
export function padsOn(model: Model, side: Side): readonly BondPad[] {
  const turn = side === 'bottom' || side === 'right' ? 1 : -1;
  return model.placement.bondPads
    .filter((pad) => pad.side === side)
    .toSorted((a, b) => turn * (along(a) - along(b)) || a.number - b.number);
}

export interface Neighbour {
  readonly pad: BondPad;
  /** Centre to centre along the side: the pitch where both are of one row, the stagger where not. */
  readonly distance: number;
}

/** The next pads before and after a pad, of its own row and of the other. */
export function neighboursOf(
  model: Model,
  pad: BondPad,
): Readonly<Record<'row' | 'other', readonly Neighbour[]>> {
  const side = padsOn(model, pad.side);
  const at = side.indexOf(pad);
  const near = (own: boolean): readonly Neighbour[] => {
    const fits = (other: BondPad): boolean => (other.row === pad.row) === own;
    const found = [side.slice(0, at).findLast(fits), side.slice(at + 1).find(fits)];
    return found.flatMap((other) =>
      other === undefined ? [] : [{ pad: other, distance: exact(Math.abs(along(other) - along(pad))) }],
    );
  };
  return { row: near(true), other: near(false) };
}

/** The same thing in a later placement of the ring, so that a choice outlives a change; undefined where it is gone. */
export function carried(thing: Thing, from: Model, to: Model): Thing | undefined {
  switch (thing.kind) {
    case 'pad': {
      const pad = from.pads.get(thing.number);
      const now = to.placement.bondPads.find(
        (other) => other.pin === pad?.pin && other.cell === pad.cell && other.landing === pad.landing,
      );
      return now && { kind: 'pad', number: now.number };
    }
    case 'rail': {
      const rail = railOf(from, thing.at);
      const like = ({ lane, net }: Rail): boolean => lane === rail?.lane && net === rail.net;
      const before = from.placement.rails.slice(0, thing.at).filter(like).length;
      const now = to.placement.rails.flatMap((other, at) => (like(other) ? [at] : []))[before];
      return now === undefined ? undefined : { kind: 'rail', at: now };
    }
    case 'finding': {
      const finding = findingOf(from, thing.number);
      const now = to.findings.find(
        ({ finding: other }) =>
          other.rule === finding?.rule && other.items.join('\n') === finding.items.join('\n'),
      );
      return now && { kind: 'finding', number: now.number };
    }
    default:
      return has(to, thing) ? thing : undefined;
  }
}
