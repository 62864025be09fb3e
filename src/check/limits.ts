/** The limits that a ring was built to, in exact units. */
import type { Rules } from '../format/placement.ts';
import { whole } from './exact.ts';

export interface Limits {
  readonly street: number;
  readonly seal: number;
  /** Street, seal ring and clearance. */
  readonly allowance: number;
  readonly core: { readonly width: number; readonly height: number; readonly clearance: number };
  readonly pitch: number;
  readonly spacing: number;
  readonly openingSpacing: number;
  readonly openingInset: number;
  readonly openingToSeal: { readonly least: number; readonly most: number | null };
  readonly toCell: number;
  readonly rowGap: number;
  readonly inset: number;
  readonly stemWidth: number;
  readonly stemSpacing: number;
  readonly cornerClearance: number;
  readonly cornerPitches: readonly { readonly pads: number; readonly pitch: number }[];
}

export function limitsOf(rules: Rules): Limits {
  const { edge, core, pads, rows, stems, corners } = rules;
  const street = whole(edge.street);
  const seal = whole(edge.seal);
  return {
    street,
    seal,
    allowance: street + seal + whole(edge.clearance),
    core: {
      width: whole(core.width),
      height: whole(core.height),
      clearance: whole(core.clearance),
    },
    pitch: whole(pads.pitch),
    spacing: whole(pads.spacing),
    openingSpacing: whole(pads.openingSpacing),
    openingInset: whole(pads.openingInset),
    openingToSeal: {
      least: whole(pads.openingToSeal.least),
      most: pads.openingToSeal.most === null ? null : whole(pads.openingToSeal.most),
    },
    toCell: whole(pads.toCell),
    rowGap: whole(rows.gap),
    inset: whole(rows.inset),
    stemWidth: whole(stems.width),
    stemSpacing: whole(stems.spacing),
    cornerClearance: whole(corners.clearance),
    cornerPitches: corners.pitches.map((step) => ({ pads: step.pads, pitch: whole(step.pitch) })),
  };
}
