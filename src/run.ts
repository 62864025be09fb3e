/**
 * The whole run, as one way through the house:
 *
 *   what the user wrote -> resolved ring -> plan -> fit -> placement -> findings
 *            readRing                       plan    fit     place       judge
 *
 * Two loops: where slack goes toward the package's fingers, the wires of a first placement tell the wished places of
 * a second one; and where missing supplies are to be set, the figures of a placement tell how many, until no count
 * grows.
 */
import { actualWires } from './bond/inductance.ts';
import { wireHits, wireRules } from './bond/rules.ts';
import { pullsOf, type Toward, wireSummary } from './bond/summary.ts';
import type { Judged } from './check/finding.ts';
import { judge } from './check/judge.ts';
import { farThings } from './check/rules/far.ts';
import { ruleList } from './check/rules.ts';
import { sameData } from './compare/same-data.ts';
import { type Assessment, assess } from './electrical/assess.ts';
import { electricalHits } from './electrical/hits.ts';
import { electricalRules } from './electrical/rules.ts';
import { summaryOf } from './electrical/table.ts';
import { type ArcNeed, addNeeds, arcNeeds } from './electrical/wanted.ts';
import { MOST_CELLS, tooLargeDie, tooManyCells } from './fit/count.ts';
import { intoSides } from './fit/cut/sides.ts';
import { goesTowardFingers, wishedPlan } from './fit/fingers.ts';
import { type Fit, fitSides } from './fit/fit.ts';
import { holdPins } from './fit/hold.ts';
import type { Finding, Placement } from './format/placement.ts';
import { SIDES, type Side } from './geometry/side.ts';
import { place } from './place/place.ts';
import { type Plan, plan } from './plan/plan.ts';
import { namesOfSet, type Supplied, withSupplies } from './plan/supplies.ts';
import { failed, found, type Outcome, type Problem } from './problems/problem.ts';
import type { Layout } from './spec/layout.ts';
import { type ReadFile, readRing } from './spec/read.ts';
import type { Ring } from './spec/ring.ts';

/**
 * Lays a resolved ring and judges it: a placement with its findings, or why it cannot be laid. With an older placement
 * to keep, pins stay where they were; the notes name those that move. A ring of more than so many cells is not laid.
 */
export function lay(described: Ring, keep?: Placement, most = MOST_CELLS): Outcome<Placement> {
  const sided = intoSides(described, new Map(keep?.bondPads.map((pad) => [pad.pin, pad.side])));
  if (!sided.ok) return sided;
  const ring = sided.value;
  const laid =
    ring.electrical?.supplies.set === true ? laySupplied(ring, keep, most) : layOnce(ring, keep, most);
  return laid.ok ? found(finished(laid.value), [...sided.notes, ...laid.notes]) : laid;
}

/** A placement, and what went toward the fingers in it. */
interface Laid {
  readonly placement: Placement;
  readonly toward: Toward | null;
}

function layOnce(ring: Ring, keep: Placement | undefined, most: number): Outcome<Laid> {
  const planned = plan(ring);
  if (!planned.ok) return planned;
  const fitted = keep === undefined ? fitSides(planned.value) : fitKeeping(planned.value, keep);
  if (!fitted.ok) return fitted;
  const unmeant = [...tooLargeDie(fitted.value), ...tooManyCells(fitted.value, most)];
  if (unmeant.length > 0) return failed(...unmeant);
  const notes = [...planned.notes, ...fitted.notes];
  const placement = place(fitted.value);
  if (!goesTowardFingers(ring)) return found({ placement, toward: null }, notes);
  const sides = SIDES.filter((side) => ring.sides[side].slack === 'toward-fingers');
  const aimed = fitSides(wishedPlan(fitted.value, pullsOf(placement)));
  // Near a corner the pads of two sides may bar each other's way to the fingers; shared slack then has to do.
  const second = aimed.ok ? place(aimed.value) : placement;
  const unproven = aimed.ok ? aimed.value.unproven : sides;
  return found({ placement: second, toward: { shared: placement, sides, unproven } }, notes);
}

/** How many bond pads get no wire though the package should give them one. */
function wireless({ package: bonded, bondPads }: Placement): number {
  if (bonded === undefined) return 0;
  const wired = new Set(bonded.bonds.map((bond) => bond.bondPad));
  return bondPads.filter((pad) => !wired.has(pad.number) && !bonded.unbonded.includes(pad.pin)).length;
}

/** How much the rules for wires find. */
const brokenBy = (placement: Placement): number =>
  wireHits(placement).reduce((sum, { hits }) => sum + hits.length, 0);

/** The sides to leave out, one and then two at a time. */
const BARRED: readonly (readonly Side[])[] = [
  ...SIDES.map((side) => [side]),
  ...SIDES.flatMap((one, i) => SIDES.slice(i + 1).map((two) => [one, two])),
];

/** How often supplies are counted again after more were set. */
const COUNTS = 3;

/** Lays a ring, sets the supplies that its figures ask for, and lays it anew; then spare ones where there is room. */
function laySupplied(ring: Ring, keep: Placement | undefined, most: number): Outcome<Laid> {
  let laid = layOnce(ring, keep, most);
  let needs: readonly ArcNeed[] = [];
  let supplied: Supplied = { ring, set: [] };
  const lay = (wanted: readonly ArcNeed[]): { supplied: Supplied; laid: Outcome<Laid> } | undefined => {
    const planned = plan(ring);
    if (!planned.ok) return undefined;
    const next = withSupplies(planned.value, wanted);
    if (next.set.length <= supplied.set.length) return undefined;
    const first = { supplied: next, laid: layOnce(next.ring, keep, most) };
    const before = laid.ok ? wireless(laid.value.placement) : 0;
    const fits = (one: Outcome<Laid>): boolean => one.ok && wireless(one.value.placement) <= before;
    if (fits(first.laid)) return first;
    // A side may have no room, or no finger, for its share: others take it, as few sides barred as will do.
    for (const barred of BARRED) {
      const other = withSupplies(planned.value, wanted, barred);
      if (other.set.length < next.set.length) continue;
      const again = layOnce(other.ring, keep, most);
      if (fits(again)) return { supplied: other, laid: again };
    }
    return first;
  };
  for (let count = 0; count < COUNTS && laid.ok; count++) {
    const found = needsOf(laid.value.placement);
    needs = count === 0 ? found : addNeeds(needs, found);
    if (found.every((need) => need.more === 0)) break;
    const next = lay(needs);
    if (next === undefined) break;
    if (!next.laid.ok) return failed(noRoom(ring, next.supplied), ...next.laid.problems);
    ({ supplied, laid } = { supplied: next.supplied, laid: next.laid });
  }
  for (let spare = ring.electrical?.supplies.spare ?? 0; spare > 0 && laid.ok; spare--) {
    const { die } = laid.value.placement;
    const strained = needsOf(laid.value.placement).map((need, i) => ({ need, i }));
    strained.sort((a, b) => b.need.strain - a.need.strain);
    const most = strained.find(({ need }) => need.kind === 'supply')?.i;
    const wanted = needs.map((need, i) => (i === most ? { ...need, more: need.more + 1 } : need));
    const next = lay(wanted);
    // Spare supplies fill what is there: they never make the die larger, nor a wire break a limit.
    if (next?.laid.ok !== true) break;
    const { placement } = next.laid.value;
    if (placement.die.width > die.width || placement.die.height > die.height) break;
    if (brokenBy(placement) > brokenBy(laid.value.placement)) break;
    needs = wanted;
    ({ supplied, laid } = { supplied: next.supplied, laid: next.laid });
  }
  return laid.ok ? found(laid.value, [...laid.notes, ...setNotes(ring, supplied)]) : laid;
}

const needsOf = (placement: Placement): readonly ArcNeed[] => {
  const assessment = assessed(placement);
  return assessment === undefined ? [] : arcNeeds(assessment);
};

const setNotes = ({ electrical }: Ring, { set }: Supplied): readonly Problem[] =>
  set.length === 0 || electrical === undefined
    ? []
    : [
        {
          code: 'supplies-set',
          message: `${set.length} supply cells were set: ${namesOfSet(set)}`,
          place: electrical.place,
        },
      ];

const noRoom = ({ electrical }: Ring, { set }: Supplied): Problem => ({
  code: 'no-room-for-supplies',
  message: `the ring needs ${set.length} more supply cells, and with them it cannot be laid`,
  mend: 'enlarge the die or let it be `fit`, loosen a budget, or write `supplies: given` to lay it without them',
  ...(electrical === undefined ? {} : { place: electrical.place }),
});

/** A placement with its core strips, what is told of its wires and supplies, and its findings. */
function finished({ placement, toward }: Laid): Placement {
  const assessment = assessed(placement);
  const strips = assessment?.strips?.strips;
  const wires = wireSummary(placement, toward);
  const electrical =
    assessment === undefined
      ? { notAssessed: '`electrical` in the ring description' }
      : summaryOf(assessment);
  const whole: Placement = {
    ...placement,
    ...(strips === undefined ? {} : { coreStrips: strips }),
    summary: { ...placement.summary, ...(wires === undefined ? {} : { wires }), electrical },
  };
  const electricalOnes = electricalHits(
    assessment === undefined ? undefined : { ...assessment, placement: whole },
  );
  return { ...whole, findings: judge(whole, [...wireHits(whole), ...electricalOnes]) };
}

/** A placement that a script may have edited, with its summary of supplies and its findings worked out afresh. */
export function rejudged(placement: Placement): Placement {
  const assessment = assessed(placement);
  const electrical = assessment === undefined ? placement.summary.electrical : summaryOf(assessment);
  const summary = electrical === undefined ? placement.summary : { ...placement.summary, electrical };
  return { ...placement, summary, findings: findingsOf(placement) };
}

/** The electrical figures of a placement with its actual wires, where it has a package. */
export function assessed(placement: Placement): Assessment | undefined {
  if (placement.rules.electrical === undefined || isBeyond(placement)) return undefined;
  let assessment = KNOWN.get(placement);
  if (assessment === undefined) {
    assessment = assess(placement, placement.package === undefined ? undefined : actualWires(placement));
    if (assessment !== undefined) KNOWN.set(placement, assessment);
  }
  return assessment;
}

/** Placements are immutable: one that was assessed to count its supplies is not assessed again to tell of them. */
const KNOWN = new WeakMap<Placement, Assessment>();

/** Whether something lies so far away that nothing is worked out with it; the checker has a rule that says so. */
const isBeyond = (placement: Placement): boolean => farThings(placement).length > 0;

/** All that stands against a placement, the program's own or one that a script has edited. */
export const findingsOf = (placement: Placement): readonly Finding[] =>
  judge(placement, [
    ...(isBeyond(placement) ? wireRules.map((rule) => ({ rule, hits: [] })) : wireHits(placement)),
    ...electricalHits(assessed(placement), isBeyond(placement) ? undefined : placement),
    ...ruleList
      .filter((rule) => rule.name === SUMMARY_RULE)
      .map((rule) => ({ rule, hits: staleFigures(placement) })),
  ]);

/** The checker's rule on the summary, which leaves the figures of the other stations to them. */
const SUMMARY_RULE = 'summary';

/** Figures in the summary of a file that are not those of its placement; what it does not tell is not held to it. */
function staleFigures(placement: Placement): Judged['hits'] {
  if (isBeyond(placement)) return [];
  const { wires, electrical } = placement.summary;
  const assessment = assessed(placement);
  const strung = wireSummary(placement, null);
  // How near the fingers shared slack would come is known only while the ring is laid.
  const held = (figures: typeof wires): unknown => ({ ...figures, towardFingers: null });
  return [
    ...(wires !== undefined && !sameData(held(wires), held(strung))
      ? [{ message: 'the summary of the wires is not that of the wires listed', items: ['wires'] }]
      : []),
    ...(electrical !== undefined &&
    !('notAssessed' in electrical && assessment === undefined) &&
    !sameData(electrical, assessment === undefined ? undefined : summaryOf(assessment))
      ? [{ message: 'the summary of the supplies is not that of the placement', items: ['electrical'] }]
      : []),
  ];
}

/** All rules, which severities and waivers may name. */
export const allRules: readonly Judged['rule'][] = [...ruleList, ...wireRules, ...electricalRules];

/** Rows are kept as well; where that alone makes a ring impossible, they take turns anew. */
function fitKeeping(planned: Plan, keep: Placement): Outcome<Fit> {
  const fitHeld = (rows: boolean): Outcome<Fit> => {
    const held = holdPins(planned, keep, rows);
    if (!held.ok) return held;
    const fitted = fitSides(held.value);
    return fitted.ok ? found(fitted.value, [...held.notes, ...fitted.notes]) : fitted;
  };
  const first = fitHeld(true);
  if (first.ok) return first;
  const anew = fitHeld(false);
  return anew.ok ? anew : first;
}

/** What came of a description: unreadable, impossible to lay, or laid (soundly or with findings). */
export type Run =
  | { readonly kind: 'unreadable'; readonly problems: readonly Problem[] }
  | { readonly kind: 'impossible'; readonly problems: readonly Problem[]; readonly notes: readonly Problem[] }
  | {
      readonly kind: 'laid';
      readonly placement: Placement;
      readonly notes: readonly Problem[];
      /** What the description says for the layout formats. */
      readonly layout: Layout;
    };

/** Reads a ring description and all that it names, and lays it; an older placement's places are kept if one is given. */
export function run(read: ReadFile, path: string, keep?: Placement): Run {
  const described = readRing(read, path, allRules);
  if (!described.ok) return { kind: 'unreadable', problems: described.problems };
  const laid = lay(described.value, keep);
  return laid.ok
    ? {
        kind: 'laid',
        placement: laid.value,
        notes: [...described.notes, ...laid.notes],
        layout: described.value.layout ?? {},
      }
    : { kind: 'impossible', problems: laid.problems, notes: described.notes };
}

/** Whether no finding of severity error stands that is not waived. */
export const isSound = (placement: Placement): boolean =>
  placement.findings.every((finding) => finding.severity !== 'error' || finding.waived !== undefined);
