/** What the schemas of the description share: names, and how a key is described for an editor. */
import { z } from 'zod';

/** A description, and where it is a plain value the default, for the editor. */
export const about = (description: string, fallback?: unknown): { description: string; default?: unknown } =>
  fallback === undefined ? { description } : { description, default: fallback };

const NAME_FORM = /^[^\s\p{Cc}\p{Zl}\p{Zp}]([^\p{Cc}\p{Zl}\p{Zp}]*[^\s\p{Cc}\p{Zl}\p{Zp}])?$/u;

/** A name: any script and sign, but one line of text without blanks at its ends. */
export const name = () =>
  z
    .string()
    .min(1)
    .max(200)
    .regex(NAME_FORM, 'must be one line of text without control characters and without blanks at its ends');

export const names = (): z.ZodArray<z.ZodString> => z.array(name()).min(1);
