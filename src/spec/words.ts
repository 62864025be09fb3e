/** What the schemas of the description share: names, and how a key is described for an editor. */
import { z } from 'zod';
import { name } from '../source/name.ts';

/** A description, and where it is a plain value the default, for the editor. */
export const about = (description: string, fallback?: unknown): { description: string; default?: unknown } =>
  fallback === undefined ? { description } : { description, default: fallback };

export { name };

export const names = (): z.ZodArray<z.ZodString> => z.array(name()).min(1);
