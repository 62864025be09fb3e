/**
 * The least die over all forms of the sides, and the cuts that make it. Every form is looked at unless it cannot be
 * better than what is found; within a form the search is exact (least.ts), and where lengths depend on fillers every
 * chain that may still be better is measured in full (every.ts).
 */
import { type Units, units } from '../../geometry/units.ts';
import type { DieWish } from '../../spec/order.ts';
import type { Ring } from '../../spec/ring.ts';
import { type Die, lessDie } from '../die.ts';
import type { Effort } from '../pack.ts';
import { type Chain, type Cuts, cutsWithin, evenest, type Limits, type Way } from './chain.ts';
import { bestOfEvery } from './every.ts';
import { exactly } from './exact.ts';
import type { Form, Forms } from './forms.ts';
import { type Asked, latticeUp, leastWithin } from './least.ts';
import { bestNear } from './near.ts';

/** The die and the cuts that make it least; `form` is what the sides then are. */
export interface Found {
  readonly die: Die;
  readonly cuts: Cuts;
  readonly form: Form;
}

/**
 * The least die over all forms, with the most even of the cuts that make it. Where fillers leave lengths out the search
 * takes effort; when that is spent (below zero) there may be a lesser one.
 */
export function bestCut(ring: Ring, forms: Forms, wish: DieWish, effort: Effort): Found | null {
  const given = wish.width !== null && wish.height !== null;
  let best: Found | null = null;
  let capacity: Capacity | null = null;
  const look = (form: Form, cores: Form['cores']): Found | null =>
    form.dense
      ? denseBest(form, cores, wish, best)
      : awkwardBest(ring, forms, form, cores, wish, best, effort);
  for (const { form: make, shallower } of forms.list) {
    const form = make();
    capacity ??= capacityOf(form.chain);
    if (best !== null && holdsTooFew(form, capacity, best.die, wish)) continue;
    const known = best;
    if (
      known === null ||
      coresOf(ring, form).some((core) => lessDie(coreDie(core, wish), known.die, wish.least))
    )
      best = look(form, coresOf(ring, form)) ?? best;
    if (best !== null && (given || look(form, [NO_DIE]) === null)) continue;
    for (const other of shallower()) {
      if (best !== null && holdsTooFew(other, capacity, best.die, wish)) continue;
      best = look(other, coresOf(ring, other)) ?? best;
    }
  }
  if (best === null || !best.form.dense) return best;
  return { ...best, cuts: evenCuts(best.form.chain, best.die, best.cuts) };
}

export const coresOf = (ring: Ring, form: Form): Form['cores'] => (ring.die === null ? form.cores : [NO_DIE]);

const askedOf = (form: Form, wish: DieWish, core: Form['cores'][number]): Asked => ({
  chain: form.chain,
  width: form.width,
  height: form.height,
  core,
  wish,
});

/** The most cells that a side of a chain holds within a length. */
interface Capacity {
  readonly chain: Chain;
  readonly most: (k: number, length: number) => number;
}

function capacityOf(chain: Chain): Capacity {
  const known = new Map<string, number>();
  const most = (k: number, length: number): number => {
    const runs = chain.ways[k as 0 | 1 | 2 | 3].runs;
    const key = `${chain.ways.findIndex((way) => way.runs === runs)} ${length}`;
    const there = known.get(key);
    if (there !== undefined) return there;
    let cells = 0;
    for (let i = 0; i < chain.count; i++) cells = Math.max(cells, runs.farthest(i, length) - i);
    known.set(key, cells);
    return cells;
  };
  return { chain, most };
}

/** The least die that the core alone allows. */
const coreDie = (core: Form['cores'][number], wish: DieWish): Die => ({
  width: units(wish.width ?? core.width),
  height: units(wish.height ?? core.height),
});

/** Boxes of extents among which every die less than a known one lies; one of `least` extents holds no cell. */
function boxesBelow(than: Die, wish: DieWish, least: Die): readonly { width: number; height: number }[] {
  const longest = Math.max(than.width, than.height);
  if (wish.width !== null || wish.height !== null)
    return [{ width: wish.width ?? than.width, height: wish.height ?? than.height }];
  if (wish.least === 'side') return [{ width: longest, height: longest }];
  const area = than.width * than.height;
  const widest = wish.aspect === null ? area / Math.max(1, least.height) : Math.sqrt(area * wish.aspect);
  const boxes: { width: number; height: number }[] = [];
  for (
    let width = widest;
    width > Math.max(1, least.width) && boxes.length < MOST_BOXES;
    width /= BOX_RATIO
  ) {
    const height = (area / width) * BOX_RATIO;
    if (wish.aspect !== null && width * wish.aspect * wish.aspect < widest) break;
    boxes.push({ width, height });
  }
  return boxes;
}

/** How much wider a box is than the next one: the finer, the more forms are told to be hopeless. */
const BOX_RATIO = 1.01;
const MOST_BOXES = 1000;

/**
 * Whether the sides of a form cannot hold the order within any die less than a known one. Where the rows are as deep as
 * the first form's, corner cells that end earlier by some length save a side no more than that (unless a cell is fixed
 * at a place that they free).
 */
function holdsTooFew(form: Form, capacity: Capacity, than: Die, wish: DieWish): boolean {
  const [left, bottom] = form.chain.ways;
  const ends = (way: Way): Units => units(way.runs.setting.start + way.runs.setting.end);
  return boxesBelow(than, wish, { width: ends(bottom), height: ends(left) }).every(
    (box) => held(form, capacity, box) < form.chain.count,
  );
}

/** The most cells that the sides of a form may hold within a box. */
function held(
  form: Form,
  capacity: Capacity,
  box: { readonly width: number; readonly height: number },
): number {
  let cells = 0;
  form.chain.ways.forEach((way, k) => {
    const { start, end, depths, strand } = way.runs.setting;
    const known = capacity.chain.ways[k as 0 | 1 | 2 | 3].runs.setting;
    const most = form.most[k] ?? form.chain.count;
    const alike = depths.outer === known.depths.outer && depths.inner === known.depths.inner;
    const comparable = alike && start <= known.start && end <= known.end && !strand.holds;
    const saved = known.start - start + known.end - end + 2 * strand.step;
    const length = Math.ceil(k % 2 === 0 ? box.height : box.width) + saved;
    cells += comparable ? Math.min(most, capacity.most(k, length)) : most;
  });
  return cells;
}

/** The least die of a form whose every length on the lattice can be filled. */
function denseBest(whole: Form, cores: Form['cores'], wish: DieWish, than: Found | null): Found | null {
  let best = than;
  for (const form of whole.parts())
    for (const core of cores) {
      const asked = askedOf(form, wish, core);
      if (!onLattice(asked)) continue;
      const die = leastWithin(asked, best?.die ?? null);
      if (die === null || (best !== null && !lessDie(die, best.die, wish.least))) continue;
      const cuts = cutsWithin(form.chain, limitsOf(die));
      if (cuts !== null) best = { die, cuts, form };
    }
  return best === than ? null : best;
}

/** Whether a fixed extent is one that fillers can fill. */
const onLattice = ({ wish, width, height }: Asked): boolean =>
  (wish.width === null || latticeUp(width, wish.width) === wish.width) &&
  (wish.height === null || latticeUp(height, wish.height) === wish.height);

const limitsOf = (die: Die, less = 0): Limits => [
  die.height - less,
  die.width - less,
  die.height - less,
  die.width - less,
];

/** The cuts that leave every side as much as can be left to each, and of these the most even. */
function evenCuts<T extends Cuts | null>(chain: Chain, die: Die, cuts: T): Cuts | T {
  const step = Math.max(1, chain.ways[0].runs.setting.strand.step);
  let [spare, none] = [0, 1];
  while (cutsWithin(chain, limitsOf(die, none * step)) !== null) [spare, none] = [none, none * 2];
  while (none - spare > 1) {
    const middle = Math.floor((spare + none) / 2);
    if (cutsWithin(chain, limitsOf(die, middle * step)) !== null) spare = middle;
    else none = middle;
  }
  const limits = limitsOf(die, spare * step);
  return evenest(chain, limits) ?? cutsWithin(chain, limits) ?? cuts;
}

/** The least die of a form whose fillers leave lengths out: chains are looked at until none can be better. */
function awkwardBest(
  ring: Ring,
  forms: Forms,
  form: Form,
  cores: Form['cores'],
  wish: DieWish,
  than: Found | null,
  effort: Effort,
): Found | null {
  const exact = exactly(ring, forms, form, effort);
  const step = Math.max(form.width.step, form.height.step, 1);
  let best = than;
  for (const core of cores) {
    const goal = leastWithin(askedOf(form, wish, core), best?.die ?? null);
    if (goal === null || (best !== null && !lessDie(goal, best.die, wish.least))) continue;
    const even = evenCuts(form.chain, goal, null);
    const likely =
      even === null ? null : bestNear(even, form.chain, wish, (cuts) => exact.dieOf(cuts, core, wish));
    if (likely !== null && (best === null || lessDie(likely.die, best.die, wish.least)))
      best = { ...likely, form };
    if (best !== null && !lessDie(goal, best.die, wish.least)) continue;
    const start =
      wish.least === 'side' ? goal : leastWithin(askedOf(form, { ...wish, least: 'side' }, core), null);
    if (start === null) continue;
    for (const most of widening(start, wish, step, () => best?.die ?? null)) {
      const { best: better } = bestOfEvery({
        chain: form.chain,
        wish,
        core,
        most,
        least: exact.least,
        dieOf: (cuts) => exact.dieOf(cuts, core, wish),
        than: best?.die ?? null,
        floor: goal,
        patience: Number.POSITIVE_INFINITY,
        effort,
      });
      if (better !== null) best = { ...better, form };
      if (effort.left < 0) break;
    }
  }
  return best === than ? null : best;
}

/** Less than any die. */
const NO_DIE: Die = { width: units(0), height: units(0) };

/** How many steps beyond the least lengths are looked at before a ring counts as one that no fillers can close. */
const WIDEST = 1 << 20;

/**
 * Bounds for the sides to look within, wider and wider until a die is known that no longer sides can better.
 * `start` is no larger than any die, `known` the best so far.
 */
export function* widening(
  start: Die,
  wish: DieWish,
  step: number,
  known: () => Die | null,
): Generator<{ readonly width: number; readonly height: number }> {
  const longest = Math.max(start.width, start.height);
  for (let more = 0; more <= WIDEST * step; more = more === 0 ? step : 2 * more) {
    const most =
      wish.width === null && wish.height === null
        ? { width: longest + more, height: longest + more }
        : { width: wish.width ?? start.width + more, height: wish.height ?? start.height + more };
    const before = known();
    if (before !== null && !lessDie(start, before, wish.least) && wish.least === 'side') return;
    yield most;
    const die = known();
    if (wish.width !== null && wish.height !== null) return;
    if (die === null || die.width > most.width || die.height > most.height) continue;
    // A long thin die may have less area than the squarest one.
    if (wish.least === 'area') {
      const side =
        wish.aspect === null ? Number.POSITIVE_INFINITY : Math.sqrt(die.width * die.height * wish.aspect);
      yield { width: side, height: side };
    }
    return;
  }
}
