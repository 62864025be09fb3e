/** All rules, in the order in which their findings are listed. */
import type { Rule } from './finding.ts';
import { ASKED_CELL_RULES } from './rules/asked-cells.ts';
import { BREAK_RULES } from './rules/breaks.ts';
import { CELL_RULES } from './rules/cells.ts';
import { CORE_RULES } from './rules/core.ts';
import { DERIVED_RULES } from './rules/derived.ts';
import { DISTANCE_RULES } from './rules/distances.ts';
import { EXACTNESS_RULES } from './rules/exactness.ts';
import { FAR_RULES } from './rules/far.ts';
import { FOOTPRINT_RULES } from './rules/footprints.ts';
import { LISTED_PIN_RULES } from './rules/listed-pins.ts';
import { LISTED_RAIL_RULES } from './rules/listed-rails.ts';
import { NAME_SIGN_RULES } from './rules/name-signs.ts';
import { NAME_RULES } from './rules/names.ts';
import { NEIGHBOUR_RULES } from './rules/neighbours.ts';
import { NUMBERING_RULES } from './rules/numbering.ts';
import { OPENING_RULES } from './rules/openings.ts';
import { PAD_KIND_RULES } from './rules/pad-kinds.ts';
import { PAD_RULES } from './rules/pads.ts';
import { PIN_FINGER_RULES } from './rules/pin-fingers.ts';
import { RAIL_RULES } from './rules/rails.ts';
import { RING_RULES } from './rules/ring.ts';
import { SECTION_DEMAND_RULES } from './rules/section-demands.ts';
import { SECTION_RULES } from './rules/sections.ts';
import { STEM_SHORT_RULES } from './rules/stem-shorts.ts';
import { STEM_RULES } from './rules/stems.ts';
import { STRIP_CUT_RULES } from './rules/strip-cuts.ts';

/** Rules that the judge itself applies, once all others have spoken. */
export const UNKNOWN_RULE = 'unknown-rule';
export const IDLE_WAIVER = 'waiver-idle';
export const SEVERITY_LOWERED = 'severity-lowered';
export const SEVERITY_SET = 'severity-set';
export const WAIVER_USED = 'waiver-used';

const META_RULES: readonly Rule[] = [
  {
    name: UNKNOWN_RULE,
    severity: 'error',
    protects: 'That a severity or a waiver speaks of a rule that there is.',
    mend: 'Correct the spelling; `ringwright check --rules` lists the rules.',
    run: () => [],
  },
  {
    name: SEVERITY_LOWERED,
    severity: 'error',
    protects: 'That no error is set aside for everything at once and without a reason.',
    mend: 'Take the severity out, and waive what is meant by name, for named items, with a reason.',
    run: () => [],
  },
  {
    name: SEVERITY_SET,
    severity: 'note',
    protects: 'That whoever reads the findings knows which rules this ring takes for more or less grave.',
    mend: 'Nothing, if the severity is meant; else take it out.',
    run: () => [],
  },
  {
    name: WAIVER_USED,
    severity: 'note',
    protects: 'That whoever reads the findings knows what is waived, and why.',
    mend: 'Nothing, if the waiver is meant; else take it out.',
    run: () => [],
  },
  {
    name: IDLE_WAIVER,
    severity: 'warning',
    protects: 'That a waiver which no longer applies is not kept for the next mistake.',
    mend: 'Take the waiver out, or name all items of the finding that it is for, with a reason.',
    run: () => [],
  },
];

/** Every rule: its stable name, its severity unless set otherwise, what it protects and how to mend it. */
export const ruleList: readonly Rule[] = [
  ...NAME_RULES,
  ...NAME_SIGN_RULES,
  ...EXACTNESS_RULES,
  ...FAR_RULES,
  ...FOOTPRINT_RULES,
  ...CELL_RULES,
  ...RING_RULES,
  ...CORE_RULES,
  ...PAD_RULES,
  ...PAD_KIND_RULES,
  ...LISTED_PIN_RULES,
  ...PIN_FINGER_RULES,
  ...ASKED_CELL_RULES,
  ...NUMBERING_RULES,
  ...OPENING_RULES,
  ...DISTANCE_RULES,
  ...STEM_RULES,
  ...STEM_SHORT_RULES,
  ...SECTION_RULES,
  ...SECTION_DEMAND_RULES,
  ...RAIL_RULES,
  ...STRIP_CUT_RULES,
  ...BREAK_RULES,
  ...LISTED_RAIL_RULES,
  ...NEIGHBOUR_RULES,
  ...DERIVED_RULES,
  ...META_RULES,
];
