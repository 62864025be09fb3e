/** The turns that a LEF SYMMETRY allows. */
import { addTurns, type Turn } from '../geometry/side.ts';
import type { Footprint } from './footprint.ts';

type Turns = Footprint['turns'];

export const ALL_TURNS: Turns = { plain: [0, 90, 180, 270], mirrored: [0, 90, 180, 270] };
export const UNTURNED: Turns = { plain: [0], mirrored: [] };

interface Placing {
  readonly mirrored: boolean;
  readonly turn: Turn;
}

/**
 * LEF's X mirrors about the x axis (y to -y), which is our mirror (x to -x) turned by 180 degrees; Y mirrors about
 * the y axis, which is our mirror; R90 is a quarter turn.
 */
const STEPS: Readonly<Record<string, Placing>> = {
  X: { mirrored: true, turn: 180 },
  Y: { mirrored: true, turn: 0 },
  R90: { mirrored: false, turn: 90 },
};

/** All that the listed symmetries generate together: X and Y both give the half turn as well. */
export function turnsOfSymmetry(symmetry: readonly string[]): Turns {
  const reached: Placing[] = [{ mirrored: false, turn: 0 }];
  for (let i = 0; i < reached.length; i++) {
    const from = reached[i];
    for (const word of symmetry) {
      const step = Object.hasOwn(STEPS, word) ? STEPS[word] : undefined;
      if (!from || !step) continue;
      const next = after(from, step);
      if (!reached.some((one) => one.mirrored === next.mirrored && one.turn === next.turn))
        reached.push(next);
    }
  }
  const of = (mirrored: boolean): readonly Turn[] =>
    reached
      .filter((one) => one.mirrored === mirrored)
      .map((one) => one.turn)
      .toSorted((a, b) => a - b);
  return { plain: of(false), mirrored: of(true) };
}

/** One placing after another: a mirror turns the turn before it round. */
const after = (first: Placing, second: Placing): Placing => ({
  mirrored: first.mirrored !== second.mirrored,
  turn: addTurns(second.mirrored ? -first.turn : first.turn, second.turn),
});
