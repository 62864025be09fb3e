/** The files that every build writes: their names and texts. */

import { wiresOf } from '../bond/wires.ts';
import type { Placement } from '../format/placement.ts';
import { bondPadsCsv } from './bond-pads.ts';
import { bondSheets } from './bond-svg.ts';
import { detailSvg } from './detail-svg.ts';
import { placementJson } from './json.ts';
import { reportHtml } from './report.ts';
import { planRing } from './ring/plan.ts';
import { ringSvg } from './ring-svg.ts';
import { nameSheets } from './sheets.ts';
import { suppliesSheets } from './supplies-svg.ts';
import { wiresCsv } from './wires-csv.ts';

/** `placement.json`, the drawings, the page and the bond-pad table; names sheets where the ring has no room for names. */
export function filesOf(placement: Placement): ReadonlyMap<string, string> {
  const plan = planRing(placement);
  const [json, ring] = [placementJson(placement), ringSvg(placement, plan)];
  return new Map([
    ['placement.json', json],
    ['ring.svg', ring],
    ['report.html', reportHtml(placement, json, ring)],
    ['detail.svg', detailSvg(placement)],
    ['bond-pads.csv', bondPadsCsv(placement)],
    ...(plan.named ? [] : nameSheets(placement)),
    ...bondFiles(placement),
    ...suppliesSheets(placement),
  ]);
}

/** The bond diagram, the wires' table and the bond-pad table; none where there is no package. */
export function bondFiles(placement: Placement): ReadonlyMap<string, string> {
  if (placement.package === undefined) return new Map();
  const wires = wiresOf(placement);
  return new Map([
    ...bondSheets(placement, wires),
    ['wires.csv', wiresCsv(placement, wires)],
    ['bond-pads.csv', bondPadsCsv(placement)],
  ]);
}
