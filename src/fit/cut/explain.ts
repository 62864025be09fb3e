/** What to say where an order cannot be cut: which constraint stands in the way, by how much, and what would do. */
import { SIDES } from '../../geometry/side.ts';
import { micrometres, type Units, units } from '../../geometry/units.ts';
import { listed } from '../../problems/listed.ts';
import type { Problem } from '../../problems/problem.ts';
import type { DieWish, Order, OrderGroup } from '../../spec/order.ts';
import type { Ring } from '../../spec/ring.ts';
import { type Die, wishOf } from '../die.ts';
import type { Keeping } from './apart.ts';
import type { LeastExtent } from './extent.ts';
import type { Lap } from './lap.ts';

const um = (length: number): string => `${micrometres(units(Math.ceil(length)))} um`;

/** Cells whose sides the order does not let them keep to. */
export function misplacedProblem(ring: Ring, order: Order, lap: Lap, keeping: Keeping): Problem {
  const [first] = keeping.misplaced;
  const index = lap.listed[first?.cell ?? 0] ?? 0;
  const cell = order.cells[index];
  const entry = SIDES.flatMap((side) => cell?.on[side] ?? [])[0];
  const names = [...new Set(keeping.misplaced.map((m) => lap.cells[m.side][m.cell]?.name ?? ''))];
  const group = order.groups.find((g) => g.cells.includes(index) && g.sides.length < 4);
  const sides = SIDES.filter((side) => cell?.on[side] !== undefined).join(' or ');
  const who = group === undefined ? `"${names[0]}"` : `the group of ${group.name}`;
  return {
    code: 'sides-cannot-be-kept',
    message: `counter-clockwise the sides follow each other left, bottom, right, top, and in this order not every cell can keep to the sides that it is bound to: at least ${keeping.misplaced.length === 1 ? 'one cell stands' : `${keeping.misplaced.length} cells stand`} elsewhere (${listed(names)})`,
    mend: `let ${who} lie on the ${first?.side ?? 'next'} side too (now ${sides}), or move ${names.length === 1 ? 'that cell' : 'those cells'} in the order`,
    place: (group ?? entry)?.place ?? ring.place,
  };
}

/** Least dies that would do in place of what was asked; null where none does. */
export interface Instead {
  /** The least die with nothing fixed. */
  readonly free: Die | null;
  /** The least with the asked width, and with the asked height. */
  readonly withWidth: Die | null;
  readonly withHeight: Die | null;
  /** Groups without which what was asked would do. */
  readonly groups: readonly OrderGroup[];
  /** The least extents that any cut takes, of those that are fixed; null where it is not known. */
  readonly extents: { readonly width: LeastExtent | null; readonly height: LeastExtent | null };
}

/** An order that can be cut, but not within the die that is asked for. */
export function tooSmallProblems(ring: Ring, wish: DieWish, instead: Instead): readonly Problem[] {
  const problems: Problem[] = [];
  const ways: string[] = [];
  for (const axis of ['width', 'height'] as const) {
    const asked = wish[axis];
    const extent = instead.extents[axis];
    if (asked === null || extent === null || asked >= extent.length) continue;
    const core = extent.length;
    if (!extent.byCore) {
      ways.push(`the ${axis} has to be ${um(core)} at the least (${um(core - asked)} more)`);
      continue;
    }
    problems.push({
      code: 'core-too-large',
      message: `the core with its clearance and the ring needs a die ${axis} of ${um(core)}, and it is fixed at ${um(asked)}: ${um(core - asked)} too small`,
      mend: `relax the ${axis} of \`die\` to ${um(core)} or more, or make the core ${um(core - asked)} smaller in ${axis}`,
      place: ring.diePlace,
    });
  }
  if (problems.length > 0) return problems;
  const { width, height } = wish;
  const more = (need: Units, asked: Units | null): string =>
    asked === null ? '' : ` (${um(need - asked)} more)`;
  if (instead.withWidth !== null)
    ways.push(
      `with a width of ${um(instead.withWidth.width)} the height has to be ${um(instead.withWidth.height)}${more(instead.withWidth.height, height)}`,
    );
  if (instead.withHeight !== null)
    ways.push(
      `with a height of ${um(instead.withHeight.height)} the width has to be ${um(instead.withHeight.width)}${more(instead.withHeight.width, width)}`,
    );
  if (instead.free !== null)
    ways.push(`the least die of all is ${um(instead.free.width)} by ${um(instead.free.height)}`);
  const relax = instead.groups.map((g) => `${g.name}`);
  const asked = [
    ...(width === null ? [] : [`width ${um(width)}`]),
    ...(height === null ? [] : [`height ${um(height)}`]),
    ...(wish.aspect === null ? [] : [`aspect ${wish.aspect}`]),
  ];
  return [
    {
      code: 'die-too-small',
      message: `no cut of the order into sides fits a die of ${asked.join(', ')}${ways.length === 0 ? '' : `: ${ways.join('; ')}`}`,
      mend:
        relax.length > 0
          ? `relax \`die\`, or what holds the group of ${relax.join(' or that of ')}: without that the die would do`
          : 'relax `die`, or say `die: fit`',
      place: ring.diePlace,
    },
  ];
}

/** An order that no die holds. */
export const noDieProblem = (ring: Ring): Problem => ({
  code: 'no-cut',
  message: 'no cut of the order into four sides can be laid, however large the die',
  mend: 'look at what is fixed with `at`, at groups that must stay whole, and at the fillers: one as wide as the grid step always works',
  place: ring.place,
});

/** Fillers of which no cut was found to be filled before the search was given up. */
export const tooAwkwardProblem = (ring: Ring): Problem => ({
  code: 'fillers-too-awkward',
  message:
    'the filler widths leave so many lengths illegal that no cut into four sides was found in which opposite sides agree',
  mend: 'add a narrow filler whose width divides the others to the cell file, or put the pins on sides',
  place: ring.place,
});

/** Whether anything is asked of the die that a larger one would not fulfil. */
export const asksForExtent = (ring: Ring): boolean => {
  const wish = wishOf(ring);
  return ring.die !== null || wish.width !== null || wish.height !== null || wish.aspect !== null;
};
