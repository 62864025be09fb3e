/** What to say where a side cannot be laid: which rule binds, how much is missing, and what would do. */
import { isHorizontal, type Side, sideLength } from '../geometry/side.ts';
import { micrometres, type Units, units } from '../geometry/units.ts';
import type { Problem } from '../problems/problem.ts';
import type { Ring } from '../spec/ring.ts';
import { commonLength, mostLengths, type Packings } from './lengths.ts';
import { fills, nextLength, type Packing, type Stuck } from './pack.ts';
import type { SideRows } from './rows.ts';
import type { TooClose } from './rules.ts';

/** A length for a message. */
const um = (length: number): string => `${micrometres(units(Math.ceil(length)))} um`;

/** Two bond pads of one cell that are too close whatever the cell's place. */
export function tooCloseProblem(rows: SideRows, close: TooClose): Problem {
  const cell = rows.cells[close.cell];
  return {
    code: 'landings-too-close',
    message: `cell "${cell?.name}" has bond pads ${close.pins[0]} and ${close.pins[1]} ${um(close.missing)} closer than the ${close.why} allows`,
    mend: 'leave one of them without a bond pad, put them in different rows, or relax that limit',
    ...placeOf(rows, close.cell),
  };
}

/** A cell fixed at a place where it cannot stand. */
export function stuckProblem(rows: SideRows, packing: Packing, stuck: Stuck): Problem {
  const cell = packing.problem.cells[stuck.cell];
  const name = rows.cells[stuck.cell]?.name;
  const at = cell?.fixed ?? 0;
  if (stuck.awkward === true)
    return {
      code: 'fillers-too-awkward',
      message: `the filler widths leave so many gaps illegal that the ${rows.side} side has more placings than can be told apart, from "${name}" on`,
      mend: 'add a narrow filler whose width divides the others to the cell file, or leave out a filler that differs from another by a grid step',
      ...placeOf(rows, stuck.cell),
    };
  const early = Number.isFinite(stuck.earliest) && stuck.earliest > at;
  if (cell?.fixed === null || cell === undefined)
    return {
      code: 'gap-cannot-be-filled',
      message: rows.over
        ? `on the ${rows.side} side a gap is needed before "${name}", where bond pads overhang, and no filler that allows a pad on top makes a legal one`
        : `on the ${rows.side} side a gap is needed before "${name}", and no fillers of the library make a legal one`,
      mend: rows.over
        ? 'say in the cell file which fillers allow a pad on top, take narrower pads, or relax the spacing that asks for the gap'
        : 'add fillers to the cell file, or relax the spacing that asks for the gap',
      ...placeOf(rows, stuck.cell),
    };
  return {
    code: 'fixed-place-impossible',
    message: early
      ? `"${name}" is fixed at ${um(at)} on the ${rows.side} side, but the cells before it and the rules reach to ${um(stuck.earliest)}: ${um(stuck.earliest - at)} too near`
      : `"${name}" is fixed at ${um(at)} on the ${rows.side} side, and no fillers make the gap before it legal`,
    mend: early
      ? `fix it at ${um(stuck.earliest)} or more, or move what stands before it`
      : `fix it at ${um(stuck.earliest)}, or at a place that differs from that by a legal gap`,
    ...placeOf(rows, stuck.cell),
  };
}

function placeOf(rows: SideRows, cell: number): Pick<Problem, 'place'> {
  const place = rows.cells[cell]?.entry?.place;
  return place === undefined ? {} : { place };
}

/** Why a given die does not hold a side; nothing where it does. */
export function dieTooSmall(
  ring: Ring,
  packings: Packings,
  side: Side,
  die: { readonly width: Units; readonly height: Units },
): readonly Problem[] {
  const packing = packings[side];
  const length = sideLength(side, die);
  if (fills(packing, length)) return [];
  const axis = isHorizontal(side) ? 'width' : 'height';
  const least = nextLength(packing, 0);
  const pair = isHorizontal(side)
    ? ([packings.bottom, packings.top] as const)
    : ([packings.left, packings.right] as const);
  const above = commonLength(pair[0], pair[1], length);
  const below = nearestBelow(ring, pair, length);
  const nearest = [below, above].filter((d) => d !== null).map(um);
  const mend =
    nearest.length === 0
      ? 'no die can hold it with these fillers: add a narrower filler to the cell file'
      : `the nearest ${axis}${nearest.length > 1 ? 's' : ''} that can hold both sides: ${nearest.join(' and ')}; or say "die: fit"`;
  const small = length < least;
  return [
    {
      code: small ? 'die-too-small' : 'no-legal-gaps',
      message: small
        ? `the ${side} side needs a die ${axis} of ${um(least)}, and it is ${um(length)}: ${um(least - length)} too small`
        : `the ${side} side cannot be filled at a die ${axis} of ${um(length)}: no fillers make its gaps legal`,
      mend,
      place: ring.diePlace,
    },
  ];
}

/** How many grid steps below a given length are tried for one that both sides fill, at the most. */
const STEPS_BELOW = 20_000;

function nearestBelow(ring: Ring, pair: readonly [Packing, Packing], length: number): number | null {
  const least = commonLength(pair[0], pair[1], 0);
  if (least === null || least > length) return null;
  const steps = Math.min(STEPS_BELOW, mostLengths(pair[0], pair[1]));
  for (let k = 1; k <= steps && length - k * ring.grid >= least; k++) {
    const tried = length - k * ring.grid;
    if (fills(pair[0], tried) && fills(pair[1], tried)) return tried;
  }
  return least;
}

/** Where the cells of two opposite sides reach further inward than a given die is wide. */
export function rowsMeet(
  ring: Ring,
  rows: Readonly<Record<Side, Pick<SideRows, 'inner'>>>,
  die: { readonly width: Units; readonly height: Units },
): readonly Problem[] {
  return (['left', 'bottom'] as const).flatMap((side): readonly Problem[] => {
    const [opposite, axis] = side === 'left' ? (['right', 'width'] as const) : (['top', 'height'] as const);
    const [near, far] = [rows[side].inner, rows[opposite].inner];
    const missing = near + far - die[axis];
    if (missing <= 0) return [];
    return [
      {
        code: 'rows-meet',
        message: `the cells of the ${side} side reach ${um(near)} inward and those of the ${opposite} side ${um(far)}, but the die has a ${axis} of ${um(die[axis])}: they overlap by ${um(missing)}`,
        mend: `make the ${axis} of \`die\` ${um(near + far)} or more, or say "die: fit"; lengths are in micrometres`,
        place: ring.diePlace,
      },
    ];
  });
}
