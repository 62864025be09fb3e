/**
 * Place and check against `JSON.stringify` of the unindented placement; fit beside them; checking with parsing and
 * schema validation against `JSON.parse` of the same text. Staggered rings of the invented test library; processor time.
 */
import { judge } from '../../src/check/judge.ts';
import { fitSides } from '../../src/fit/fit.ts';
import { readPlacement } from '../../src/format/read.ts';
import { place } from '../../src/place/place.ts';
import { plan } from '../../src/plan/plan.ts';
import { entry, footprint, LANES, library, ring } from '../helpers/ring.ts';
import { processorRatioOf, report } from './measure.ts';

function ringOf(cells: number) {
  const parts = library(35);
  const named = (name: string) => parts.find((f) => f.name === name) ?? footprint(name, 'signal', 35);
  // Of a packed staggered ring's cells about every second is a filler.
  const perSide = Math.max(5, Math.round((cells - 4) / 8));
  const sides = Object.fromEntries(
    ['left', 'bottom', 'right', 'top'].map((side) => [
      side,
      Array.from({ length: perSide }, (_, i) => {
        const lane = LANES[i % 12];
        return lane === undefined
          ? entry(named('io'), `${side}_${i}`)
          : entry(named(`sup_${lane.toLowerCase()}`), `${side}_${lane}_${i}`);
      }),
    ]),
  );
  const planned = plan(ring(parts, 'staggered', sides));
  if (!planned.ok) throw new Error('the ring cannot be planned');
  return planned.value;
}

for (const cells of [100, 1000, 10_000, 100_000]) {
  const planned = ringOf(cells);
  const fitted = fitSides(planned);
  if (!fitted.ok) throw new Error(JSON.stringify(fitted.problems));
  const placement = place(fitted.value);
  const text = JSON.stringify(placement);
  const errors = judge(placement).filter((f) => f.severity === 'error');
  if (errors.length > 0) throw new Error(JSON.stringify(errors[0]));
  const count = placement.cells.length;
  report(
    processorRatioOf(
      `place and check / JSON.stringify, ${count} cells`,
      () => judge(place(fitted.value)),
      () => JSON.stringify(placement),
    ),
  );
  report(
    processorRatioOf(
      `fit / JSON.stringify, ${count} cells`,
      () => fitSides(planned),
      () => JSON.stringify(placement),
    ),
  );
  report(
    processorRatioOf(
      `read, validate and check / JSON.parse, ${count} cells`,
      () => {
        const read = readPlacement(text);
        if (!read.ok)
          throw new Error(`the placement cannot be read: ${JSON.stringify(read.problems.slice(0, 2))}`);
        judge(read.value);
      },
      () => JSON.parse(text),
    ),
  );
}
