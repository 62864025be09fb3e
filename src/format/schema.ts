/** The placement file's schema as JSON Schema, from the same source that reads and types it. */
import { z } from 'zod';
import { placementSchema } from './placement.ts';

/** JSON Schema, draft 2020-12. Unknown fields are allowed: new ones may be added within a version. */
export const placementJsonSchema = (): z.core.JSONSchema.JSONSchema =>
  z.toJSONSchema(placementSchema, { target: 'draft-2020-12', io: 'input' });
