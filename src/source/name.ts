/** Names in the files that a person writes: any script and sign, but one line of text that a reader can see. */
import { z } from 'zod';
import { unseenIn } from '../problems/unseen.ts';

/** The form as JSON Schema has it: visible signs, and plain blanks between them. */
const FORM =
  /^(?! )(?:(?![\p{Cc}\p{Cf}\p{Cs}\p{Zl}\p{Zp}\p{Default_Ignorable_Code_Point}\u2800])(?: |[^\p{Zs}]))+(?<! )$/u;

/** A name of at most 200 signs. */
export const name = () =>
  z
    .string()
    .min(1)
    .max(200)
    .regex(FORM, { error: ({ input }) => formWords(input) });

/** What is wrong with a text that is no name, behind the words for where it stands. */
export function formWords(text: unknown): string {
  const sign = typeof text === 'string' ? unseenIn(text) : undefined;
  return sign === undefined
    ? 'must be one line of text without control characters and without blanks at its ends'
    : `holds the sign ${sign}, which cannot be seen or not be told from others; write the name without it`;
}
