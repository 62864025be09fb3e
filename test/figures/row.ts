/** A row of equal parallel wires at one pitch, for the worked figures: lengths in micrometres, inductances in nH. */
import { bundle } from '../../src/figures/coupled.ts';
import { parallelMutual, selfInductance } from '../../src/figures/wires.ts';

export interface WireRow {
  readonly length: number;
  readonly diameter: number;
  readonly pitch: number;
  /** What the package lead adds to each. */
  readonly lead: number;
}

/** What n wires of the row are together; undefined where no real wires could be so. */
export function rowInductance({ length, diameter, pitch, lead }: WireRow, n: number): number | undefined {
  const wires = bundle();
  const self = selfInductance(length, diameter) + lead;
  for (let i = 0; i < n; i++)
    if (!wires.add(self, (j) => parallelMutual(length, (i - j) * pitch))) return undefined;
  return wires.inductance();
}
