/** Break cells: where sections with different nets meet they part them, and cut no more than they must. */
import { carries, laneNames, meetings, partedBy } from '../arcs.ts';
import type { Hit, Rule } from '../finding.ts';
import { carriesLane, type Kind } from '../kinds.ts';
import { once } from '../once.ts';
import { hit, hitAt, hitBetween, names } from '../say.ts';
import type { CellView, SectionView, View } from '../view.ts';

/** The lanes that one of two sections puts a net on. */
const lanesOf = (from: SectionView | null, to: SectionView | null): readonly number[] => [
  ...new Set([...(from?.nets.keys() ?? []), ...(to?.nets.keys() ?? [])]),
];

/** A place where the section changes, with the break cells that stand there. */
interface Change {
  readonly before: CellView;
  readonly after: CellView;
  readonly breaks: readonly CellView[];
  readonly from: SectionView;
  readonly to: SectionView;
  /** The lanes on which the two sections have different nets. */
  readonly differing: readonly number[];
}

/** Every run of break cells, and every other place where two cells of different sections meet. */
const changes = once((view): readonly Change[] =>
  meetings(view).flatMap(({ before, after, breaks }): readonly Change[] => {
    const [from, to] = [before.section, after.section];
    if (from === null || to === null || (breaks.length === 0 && from === to)) return [];
    const lanes = from === to ? [] : lanesOf(from, to);
    const differing = lanes.filter((lane) => from.nets.get(lane) !== to.nets.get(lane));
    return [{ before, after, breaks, from, to, differing }];
  }),
);

const breakMissing = (view: View): readonly Hit[] =>
  changes(view)
    .filter(({ breaks, differing }) => breaks.length === 0 && differing.length > 0)
    .map(({ before, after, from, to, differing }) =>
      hitBetween(
        before,
        after,
        `sections "${from.name}" and "${to.name}" meet between "${before.name}" and "${after.name}" with different nets on ${laneNames(view, differing)}, and no break cell parts them`,
        before.name,
        after.name,
      ),
    );

const breakShort = (view: View): readonly Hit[] =>
  changes(view).flatMap(({ breaks, differing, from, to }) => {
    const first = breaks[0];
    const through = differing.filter((lane) => breaks.every((cell) => carries(cell, lane)));
    if (first === undefined || through.length === 0) return [];
    return [
      hitAt(
        first,
        `${names(breaks.map((c) => c.name))} lets ${laneNames(view, through)} through between sections "${from.name}" and "${to.name}", which have different nets there`,
        ...breaks.map((c) => c.name),
      ),
    ];
  });

const breakNeedless = (view: View): readonly Hit[] =>
  changes(view).flatMap(({ breaks, differing }) =>
    breaks
      .filter((cell) => differing.every((lane) => carries(cell, lane)))
      .map((cell) =>
        hitAt(cell, `break cell "${cell.name}" cuts no lane whose nets differ at its two sides`, cell.name),
      ),
  );

const breakCutsOn = (view: View): readonly Hit[] =>
  changes(view).flatMap(({ breaks, from, to }) =>
    breaks.flatMap((cell) => {
      const on = [...from.nets.keys()].filter(
        (lane) => from.nets.get(lane) === to.nets.get(lane) && !carries(cell, lane),
      );
      if (on.length === 0) return [];
      return [
        hitAt(
          cell,
          `break cell "${cell.name}" cuts ${laneNames(view, on)}, whose net goes on at its other side`,
          cell.name,
        ),
      ];
    }),
  );

/** A break cell of the library that would do with fewer cuts, where one stands alone. */
const breakWide = (view: View): readonly Hit[] =>
  changes(view).flatMap(({ breaks, differing, from, to }) => {
    const [cell] = breaks;
    if (cell === undefined || breaks.length > 1 || differing.length === 0 || cell.kind === null) return [];
    const lanes = lanesOf(from, to).filter((lane) => !differing.includes(lane));
    const cuts = (kind: Kind): number => lanes.filter((lane) => !carriesLane(kind, lane)).length;
    const own = cuts(cell.kind);
    const better = view.kinds
      .filter((kind) => kind.footprint.role === 'break')
      .filter((kind) => differing.every((lane) => !carriesLane(kind, lane)))
      .find((kind) => cuts(kind) < own);
    if (better === undefined) return [];
    return [
      hitAt(
        cell,
        `break cell "${cell.name}" cuts more than it must; ${better.footprint.name} would cut fewer lanes`,
        cell.name,
      ),
    ];
  });

function partings(view: View): readonly Hit[] {
  const hits: Hit[] = [];
  const listed = new Map<string, string[]>();
  for (const parting of view.placement.partings) {
    const text = `${[...parting.lanes].sort().join(' ')} between ${parting.between.join(' and ')}`;
    const own = listed.get(parting.cell);
    if (own === undefined) listed.set(parting.cell, [text]);
    else own.push(text);
  }
  for (const [cell, { before, after }] of partedBy(view)) {
    const [from, to] = [before.section, after.section];
    const cut = lanesOf(from, to).filter((lane) => !carries(cell, lane));
    const lanes = cut.map((lane) => view.lanes.names[lane] ?? '').sort();
    const derived = `${lanes.join(' ')} between ${from?.name ?? ''} and ${to?.name ?? ''}`;
    const own = listed.get(cell.name) ?? [];
    listed.delete(cell.name);
    if (own.length === 1 && own[0] === derived) continue;
    hits.push(
      hitAt(
        cell,
        `break cell "${cell.name}" parts ${derived}; listed is ${own.length === 0 ? 'nothing' : own.join(', and ')}`,
        cell.name,
      ),
    );
  }
  for (const name of listed.keys())
    hits.push(hit(`a parting is listed for "${name}", which is no break cell`, name));
  return hits;
}

export const BREAK_RULES: readonly Rule[] = [
  {
    name: 'break-missing',
    severity: 'error',
    protects: 'That two sections with different nets are parted.',
    mend: 'Set a break cell between them that cuts the lanes named, or correct the section of the cell.',
    run: breakMissing,
  },
  {
    name: 'break-short',
    severity: 'error',
    protects: 'That a break cell cuts every lane whose nets differ at its two sides.',
    mend: 'Take a break cell that cuts these lanes, or correct the section of a neighbour.',
    run: breakShort,
  },
  {
    name: 'break-needless',
    severity: 'warning',
    protects: 'That no rail is cut where both sides are of one net on every lane that is cut.',
    mend: 'Replace the break cell by fillers, unless the cut is meant.',
    run: breakNeedless,
  },
  {
    name: 'break-cuts-on',
    severity: 'note',
    protects: 'That whoever relies on a net that goes on knows where it is cut.',
    mend: 'Nothing, if each side is fed on its own; else take a break cell that lets the lane through.',
    run: breakCutsOn,
  },
  {
    name: 'break-wide',
    severity: 'note',
    protects: 'That the break cell which cuts the fewest lanes is known of.',
    mend: 'Take the break cell that the message names, where it may be turned that way.',
    run: breakWide,
  },
  {
    name: 'partings',
    severity: 'error',
    protects: 'That the partings listed are those that the break cells make.',
    mend: 'Derive the partings anew from the cells.',
    run: partings,
  },
];
