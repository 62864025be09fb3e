/**
 * Shows: the published schemas are JSON Schema draft 2020-12, and every file that the program writes is valid against the
 * placement's. Source of the verdict: npm ajv, a general validator.
 */
import { readFileSync } from 'node:fs';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { expect, it } from 'vitest';
import { parse } from 'yaml';
import { readText } from '../../src/commands/files.ts';
import { run } from '../../src/run.ts';
import { placementJson } from '../../src/write/json.ts';

const schema = (name: string) => JSON.parse(readFileSync(`dist/schemas/${name}.schema.json`, 'utf8'));
const validator = (name: string) => new Ajv2020({ strict: false, allErrors: true }).compile(schema(name));

it.each(['starter', 'tide-gauge', 'frost-hub', 'lamp-controller'])(
  '%s: description and placement are valid',
  (name) => {
    const path = `fixtures/${name}/ring.yaml`;
    const describes = validator('ring');
    expect(describes(parse(readFileSync(path, 'utf8'))) || describes.errors).toBe(true);
    const outcome = run(readText, path);
    if (outcome.kind !== 'laid') throw new Error(JSON.stringify(outcome));
    const places = validator('placement');
    expect(places(JSON.parse(placementJson(outcome.placement))) || places.errors).toBe(true);
    expect(places({ ...JSON.parse(placementJson(outcome.placement)), die: { width: -1, height: 5 } })).toBe(
      false,
    );
  },
);

it('the cell files are valid against theirs', () => {
  const cells = validator('cells');
  for (const path of [
    'fixtures/cells/harbour.cells.yaml',
    'fixtures/starter/cells.yaml',
    'fixtures/open-130/cells.yaml',
  ])
    expect(cells(parse(readFileSync(path, 'utf8'))) || cells.errors).toBe(true);
});
