/**
 * Supplies and rails: how the time of assessing a ring, and of setting supplies on one, grows from 10 000 to 100 000
 * pads (10 is linear). Wires in one matrix are capped at 256, pads from which discharge paths are searched by the
 * work that they make.
 */
import { assess } from '../../src/electrical/assess.ts';
import { electricalHits } from '../../src/electrical/hits.ts';
import { summaryOf } from '../../src/electrical/table.ts';
import { withSupplies } from '../../src/plan/supplies.ts';
import { largeNeeds, largePlacement } from '../electrical/large.ts';
import { ratioOf, report } from './measure.ts';

const [few, many] = [largePlacement(10_000), largePlacement(100_000)];
report(
  ratioOf(
    'supplies and rails assessed: 100 000 / 10 000 pads',
    () => electricalHits(assess(many)),
    () => electricalHits(assess(few)),
    3,
  ),
);
const [assessedFew, assessedMany] = [assess(few), assess(many)];
if (assessedFew !== undefined && assessedMany !== undefined)
  report(
    ratioOf(
      'the figures of that, each with its working: 100 000 / 10 000 pads',
      () => summaryOf(assessedMany),
      () => summaryOf(assessedFew),
      3,
    ),
  );
const [wantedFew, wantedMany] = [largeNeeds(10_000), largeNeeds(100_000)];
report(
  ratioOf(
    'an eighth more supplies set: 100 000 / 10 000 pads',
    () => withSupplies(wantedMany.plan, wantedMany.needs),
    () => withSupplies(wantedFew.plan, wantedFew.needs),
    3,
  ),
);
