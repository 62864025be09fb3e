/** The files that every build writes: their names and texts. */
import type { Placement } from '../format/placement.ts';
import { bondPadsCsv } from './bond-pads.ts';
import { detailSvg } from './detail-svg.ts';
import { placementJson } from './json.ts';
import { planRing } from './ring/plan.ts';
import { ringSvg } from './ring-svg.ts';
import { nameSheets } from './sheets.ts';
import { wiresCsv } from './wires-csv.ts';

/** `placement.json`, the drawings and the bond-pad table; names sheets where the ring has no room for names. */
export function filesOf(placement: Placement): ReadonlyMap<string, string> {
  const plan = planRing(placement);
  return new Map([
    ['placement.json', placementJson(placement)],
    ['ring.svg', ringSvg(placement, plan)],
    ['detail.svg', detailSvg(placement)],
    ['bond-pads.csv', bondPadsCsv(placement)],
    ...(plan.named ? [] : nameSheets(placement)),
    ...(placement.package === undefined ? [] : bondFiles(placement)),
  ]);
}

/** The bond diagram and the wires' table. */
const bondFiles = (placement: Placement): readonly (readonly [string, string])[] => [
  ['wires.csv', wiresCsv(placement)],
];
