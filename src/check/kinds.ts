/** The footprints of a placement, prepared: exact numbers, the faces that show strips, what each lane does. */
import type { PlacedFootprint } from '../format/placement.ts';
import { whole } from './exact.ts';
import { type Pose, poseOf } from './turn.ts';

/** A strip as it shows at an edge, from the outline's outward edge inward. */
export interface FaceStrip {
  readonly lane: number;
  readonly layer: string;
  readonly from: number;
  readonly to: number;
}

/** One of a footprint's two edges that meet neighbours: its strips by layer, then from outside inward. */
export interface Face {
  /** Unique among all faces of the placement. */
  readonly id: number;
  readonly strips: readonly FaceStrip[];
}

/** A strip that runs through, as seen from the outline's outward edge, and the edges at which it shows. */
export interface RunningStrip {
  readonly layer: string;
  readonly from: number;
  readonly to: number;
  readonly edges: 'both' | 'start' | 'end';
}

/** The strips of one lane that run through a kind, none where it is cut; kinds whose strips are alike share a number. */
export interface Run {
  readonly alike: number;
  readonly strips: readonly RunningStrip[];
}

export interface KindLanding {
  readonly name: string;
  readonly at: number;
  readonly feeds: readonly number[];
  readonly inside: {
    readonly t: number;
    readonly along: number;
    readonly deep: number;
    readonly openingAlong: number;
    readonly openingDeep: number;
  } | null;
}

export interface Kind {
  readonly index: number;
  readonly footprint: PlacedFootprint;
  /** Extents of the drawing, and of the cell's own frame. */
  readonly drawnWidth: number;
  readonly drawnHeight: number;
  readonly along: number;
  readonly deep: number;
  readonly setback: number;
  readonly landings: readonly KindLanding[];
  /** The index of each landing by its name. */
  readonly landingNamed: ReadonlyMap<string, number>;
  readonly start: Face;
  readonly end: Face;
  /** By lane, those lanes only of which it has strips. */
  readonly lanes: ReadonlyMap<number, Run>;
  /** A number that kinds share whose strips are alike on every lane. */
  readonly profile: number;
  readonly ties: readonly (readonly number[])[];
  /** Filled as poses are asked for: by quarter turns, the mirrored ones after the others. */
  readonly poses: (Pose | undefined)[];
}

/** How a kind stands at a rotation; made once. */
export function poseAt(kind: Kind, mirrored: boolean, rotation: number): Pose {
  const slot = rotation / 90 + (mirrored ? 4 : 0);
  const known = kind.poses[slot];
  if (known !== undefined) return known;
  const pose = poseOf(kind.drawnWidth, kind.drawnHeight, kind.footprint, mirrored, rotation);
  kind.poses[slot] = pose;
  return pose;
}

/** The lanes of a placement by number, in the order of their first mention. */
export interface LaneNumbers {
  readonly names: readonly string[];
  readonly of: (name: string) => number;
}

export function laneNumbers(): LaneNumbers {
  const names: string[] = [];
  const numbers = new Map<string, number>();
  return {
    names,
    of: (name) => {
      const known = numbers.get(name);
      if (known !== undefined) return known;
      numbers.set(name, names.length);
      names.push(name);
      return names.length - 1;
    },
  };
}

/** Whether some strip of a lane runs through a kind. */
export const carriesLane = (kind: Kind, lane: number): boolean =>
  (kind.lanes.get(lane)?.strips.length ?? 0) > 0;

/** Prepares the footprints; `lanes` must already know every lane that anything names. */
export function kindsOf(footprints: readonly PlacedFootprint[], lanes: LaneNumbers): readonly Kind[] {
  for (const f of footprints) {
    for (const { lane } of f.lanes) lanes.of(lane);
    for (const lane of f.ties.flat()) lanes.of(lane);
    for (const landing of f.landings) for (const lane of landing.feeds) lanes.of(lane);
    for (const pair of f.clamps) {
      lanes.of(pair.supply);
      lanes.of(pair.ground);
    }
  }
  const alike = new Map<string, number>();
  return footprints.map((footprint, index) => kindOf(footprint, index, lanes, alike));
}

function kindOf(
  footprint: PlacedFootprint,
  index: number,
  lanes: LaneNumbers,
  alike: Map<string, number>,
): Kind {
  const drawnWidth = whole(footprint.width);
  const drawnHeight = whole(footprint.height);
  const upright = footprint.drawnFor === 'bottom' || footprint.drawnFor === 'top';
  const runs = new Map<number, RunningStrip[]>();
  for (const { lane, strips } of footprint.lanes) {
    if (strips.length === 0) continue;
    const run = runs.get(lanes.of(lane)) ?? [];
    runs.set(lanes.of(lane), run);
    for (const { layer, from, to, edges, carry } of strips)
      if (carry === 'through') run.push({ layer, from: whole(from), to: whole(to), edges });
  }
  const ownLanes = new Map(
    [...runs].map(([lane, strips]) => [lane, { alike: numberOf(alike, laneKey(strips)), strips }]),
  );
  return {
    index,
    footprint,
    drawnWidth,
    drawnHeight,
    along: upright ? drawnWidth : drawnHeight,
    deep: upright ? drawnHeight : drawnWidth,
    setback: whole(footprint.setback),
    landings: footprint.landings.map((landing) => ({
      name: landing.name,
      at: whole(landing.at),
      feeds: landing.feeds.map(lanes.of),
      inside:
        landing.inside === null
          ? null
          : {
              t: whole(landing.inside.t),
              along: whole(landing.inside.along),
              deep: whole(landing.inside.deep),
              openingAlong: whole(landing.inside.opening.along),
              openingDeep: whole(landing.inside.opening.deep),
            },
    })),
    landingNamed: new Map([...footprint.landings.entries()].reverse().map(([k, { name }]) => [name, k])),
    start: { id: 2 * index, strips: faceStrips(footprint, 'start', lanes) },
    end: { id: 2 * index + 1, strips: faceStrips(footprint, 'end', lanes) },
    lanes: ownLanes,
    profile: numberOf(alike, profileKey(ownLanes)),
    ties: footprint.ties.map((group) => group.map(lanes.of)),
    poses: [],
  };
}

/** The number that equal keys share. */
function numberOf(known: Map<string, number>, key: string): number {
  const number = known.get(key) ?? known.size;
  known.set(key, number);
  return number;
}

const laneKey = (strips: readonly RunningStrip[]): string =>
  `lane ${JSON.stringify(strips.map(({ layer, from, to }) => [layer, from, to]).sort())}`;

const profileKey = (lanes: ReadonlyMap<number, Run>): string =>
  `all ${JSON.stringify([...lanes].map(([lane, { alike }]) => [lane, alike]).sort())}`;

function faceStrips(
  footprint: PlacedFootprint,
  edge: 'start' | 'end',
  lanes: LaneNumbers,
): readonly FaceStrip[] {
  const strips: FaceStrip[] = [];
  for (const { lane, strips: drawn } of footprint.lanes)
    for (const strip of drawn)
      if (strip.edges === 'both' || strip.edges === edge)
        strips.push({
          lane: lanes.of(lane),
          layer: strip.layer,
          from: whole(strip.from),
          to: whole(strip.to),
        });
  return strips.sort((a, b) =>
    a.layer < b.layer ? -1 : a.layer > b.layer ? 1 : a.from - b.from || a.to - b.to,
  );
}
