/** Figures of the demands and of the package that no chip and no wire can have. */
import type { Hit } from '../finding.ts';
import { hit } from '../say.ts';
import type { View } from '../view.ts';

/** Current limits by temperature, which stand with the coolest first. */
export function figuresOfDemands({ placement }: View): readonly Hit[] {
  const hits: Hit[] = [];
  for (const { name, limits } of placement.rules.electrical?.layers ?? []) {
    const temperatures = limits.flatMap(({ celsius }) => celsius ?? []);
    if (temperatures.some((celsius, i) => i > 0 && celsius < (temperatures[i - 1] ?? celsius)))
      hits.push(
        hit(
          `the current limits of layer "${name}" are for ${temperatures.join(', ')} degC, not the coolest first`,
          name,
        ),
      );
  }
  return hits;
}
