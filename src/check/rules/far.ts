/** Shapes so far away or so large that no figure of wires or supplies can be worked out with them. */
import type { Placement } from '../../format/placement.ts';
import type { Hit, Rule } from '../finding.ts';
import { hit } from '../say.ts';

/** A metre, in micrometres: larger than any die, package or distance between them. */
const FARTHEST = 1e6;

const isFar = (length: number): boolean => !(Math.abs(length) <= FARTHEST);

const boxIsFar = (b: {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}) => isFar(b.x) || isFar(b.y) || isFar(b.width) || isFar(b.height);

/** Whether any number within a value is one. */
const holdsFar = (value: unknown): boolean =>
  typeof value === 'number'
    ? isFar(value)
    : typeof value === 'object' && value !== null && Object.values(value).some(holdsFar);

/** What lies beyond a metre, or is larger: each with the name that findings give it. */
export function farThings(placement: Placement): readonly string[] {
  const { die, cells, bondPads, stems, footprints, rules, package: bonded } = placement;
  const far = new Set<string>();
  if (isFar(die.width) || isFar(die.height)) far.add('die');
  for (const c of cells) if (boxIsFar(c)) far.add(c.name);
  for (const p of bondPads)
    if (boxIsFar(p) || isFar(p.opening.width) || isFar(p.opening.height)) far.add(p.pin);
  for (const s of stems) if (boxIsFar(s)) far.add(`stem of bond pad ${s.bondPad}`);
  for (const f of footprints) if (isFar(f.width) || isFar(f.height)) far.add(f.name);
  if (bonded !== undefined) {
    for (const f of bonded.fingers) if (isFar(f.x) || isFar(f.y) || isFar(f.width)) far.add(f.name);
    const { fingers: _, bonds: __, ...rest } = bonded;
    if (holdsFar(rest)) far.add('package');
  }
  for (const strip of placement.coreStrips ?? []) if (holdsFar(strip)) far.add(`core strip of ${strip.net}`);
  const { edge, core, pads, rows, stems: stemRules, corners } = rules;
  if (holdsFar([edge, core, pads, rows, stemRules, corners])) far.add('rules');
  return [...far];
}

export const FAR_RULES: readonly Rule[] = [
  {
    name: 'too-far',
    severity: 'error',
    protects: 'That wires and supplies can be assessed: they are not where anything lies a metre away.',
    mend: 'Correct the place or the extent; lengths are micrometres.',
    run: ({ placement }): readonly Hit[] =>
      farThings(placement).map((name) =>
        hit(`"${name}" lies, or reaches, more than a metre away; wires and supplies are not assessed`, name),
      ),
  },
];
