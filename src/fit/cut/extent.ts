/** The least extent of a die that an order can be cut for, whatever the other one: what has to give where one is fixed. */
import { type Units, units } from '../../geometry/units.ts';
import type { Ring } from '../../spec/ring.ts';
import type { Effort } from '../pack.ts';
import { bestCut, coresOf } from './best.ts';
import type { Form, Forms } from './forms.ts';
import { latticeUp, narrowest, turned } from './least.ts';

export interface LeastExtent {
  readonly length: Units;
  /** Whether the core asks for it; else the pads that have to lie on these sides. */
  readonly byCore: boolean;
}

const FREE = { width: null, height: null, aspect: null, least: 'side' } as const;

/** The least over all forms; null where there is none, or where fillers cannot fill it and the least is not known. */
export function leastExtent(
  ring: Ring,
  forms: Forms,
  axis: 'width' | 'height',
  effort: Effort,
): LeastExtent | null {
  let best: LeastExtent | null = null;
  let certain = true;
  const look = (form: Form): void => {
    for (const core of coresOf(ring, form)) {
      const asked = { chain: form.chain, width: form.width, height: form.height, core, wish: FREE };
      const own = axis === 'width' ? asked : turned(asked);
      const floor = latticeUp(own.width, own.core.width);
      if (best !== null && floor >= best.length) continue;
      const length = narrowest(own);
      if (length !== null && (best === null || length < best.length))
        best = { length: units(length), byCore: length === floor };
    }
  };
  for (const { form: make, shallower } of forms.list) {
    const form = make();
    certain &&= form.dense;
    for (const part of form.parts()) look(part);
    for (const other of shallower()) for (const part of other.parts()) look(part);
  }
  const found = best as LeastExtent | null;
  const holds = (length: Units): boolean =>
    bestCut(ring, forms, { ...FREE, [axis]: length }, effort) !== null;
  return found === null || certain || holds(found.length) ? found : null;
}
