/**
 * Lengths as users write them: micrometres, read into exact units. The input side stays a plain number, so the
 * schemas that use these can be published as JSON Schema.
 */
import { z } from 'zod';
import { exactUnits, METRE, micrometres, type Units, ZERO } from '../geometry/units.ts';

/** In micrometres, as users write. */
const LONGEST = micrometres(METRE);
const TOO_LONG = `must be at most ${LONGEST} micrometres, which is a metre`;

const number = (): z.ZodNumber => z.number().max(LONGEST, TOO_LONG);

function toUnits(written: number, context: z.RefinementCtx): Units {
  const exact = exactUnits(written);
  if (exact !== undefined) return exact;
  context.addIssue({
    code: 'custom',
    message: `must be a whole number of picometres, so have at most six decimals, but is ${written}`,
    params: { code: 'too-fine', mend: 'round it to six decimals' },
  });
  return ZERO;
}

export type LengthSchema = z.ZodPipe<z.ZodNumber, z.ZodTransform<Units, number>>;

/** A length of zero or more. */
export const length = (): LengthSchema => number().nonnegative().transform(toUnits);

/** A length above zero. */
export const positiveLength = (): LengthSchema => number().positive().transform(toUnits);

/** A length or shift of either sign. */
export const signedLength = (): LengthSchema =>
  number().min(-LONGEST, `must be at least ${-LONGEST} micrometres`).transform(toUnits);

/** No electrical figure of a chip lies beyond this, in whatever unit it is given; nor, unless it is 0, below its inverse. */
const MOST_AMOUNT = 1e9;
const LEAST_AMOUNT = 1e-9;

/** An electrical figure above zero. */
export const positiveAmount = (most: number = MOST_AMOUNT): z.ZodNumber =>
  z.number().positive({ abort: true }).min(LEAST_AMOUNT).max(most);
