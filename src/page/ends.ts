/** Taking the two ends of a measure, from the pointer, from a thing, or anew after a change. */
import type { Core } from './core.ts';
import type { Dot } from './geometry.ts';
import { measuredText } from './measuring.ts';
import { nameOf } from './model.ts';
import {
  type Measured,
  measure,
  type Shape,
  type Snap,
  shapeNamed,
  snapAt,
  snapName,
  snapNear,
} from './snap.ts';
import type { Thing } from './thing.ts';

/** What is nearest to a place of the drawing's box, within so many pixels. */
export function snapWithin({ loaded, state, view }: Core, at: Dot, reach: number): Snap | undefined {
  const shapes = loaded()?.shapes;
  return shapes && snapNear(shapes, state().shown, view.toDie(at), reach / view.frame().k);
}

/** The first end is kept, the second makes the measure. */
export function takeEnd(core: Core, snap: Snap): void {
  const { start } = core.state();
  if (start !== undefined) {
    takeMeasured(core, measure(start, snap));
    return;
  }
  core.change({ start: snap, snap: undefined });
  core.loaded()?.measuring.setFrom(snap);
  core.say(`measuring from the ${snapName(snap)}`);
}

export function takeMeasured({ state, change, say }: Core, measured: Measured): void {
  change({ measured: [...state().measured, measured], start: undefined, snap: undefined });
  say(measuredText(measured));
}

export function measureFrom(core: Core, thing: Thing): void {
  const loaded = core.loaded();
  const shape = loaded && shapeNamed(loaded.shapes, nameOf(loaded.model, thing));
  if (shape === undefined) core.say('choose a pad or a cell to measure from');
  else takeEnd(core, snapAt(shape, 'centre'));
}

/** Measures of an earlier ring between the same shapes of this one; those whose shapes are gone are left out. */
export function measuredAnew(measured: readonly Measured[], shapes: readonly Shape[]): readonly Measured[] {
  const anew = (snap: Snap): Snap | undefined => {
    const shape = shapeNamed(shapes, snap.shape.name);
    return shape && snapAt(shape, snap.spot);
  };
  return measured.flatMap(({ from, to }) => {
    const [a, b] = [anew(from), anew(to)];
    return a === undefined || b === undefined ? [] : [measure(a, b)];
  });
}
