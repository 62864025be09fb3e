/**
 * Shows that the demonstrations' descriptions are read without an error or a warning, as what they are said to be, and
 * that the JSON Schema accepts each as an editor would, and refuses a misspelt key. Sources: the counts are those that
 * the descriptions name in their first lines; JSON Schema draft 2020-12 as ajv implements it. That the rings can be laid
 * soundly is shown where they are laid.
 */
import { existsSync, readFileSync } from 'node:fs';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import { ruleList } from '../../src/check/rules.ts';
import { SIDES } from '../../src/geometry/side.ts';
import { failed, found, type Outcome, problemText } from '../../src/problems/problem.ts';
import { readRing } from '../../src/spec/read.ts';
import type { Ring } from '../../src/spec/ring.ts';
import { ringJsonSchema } from '../../src/spec/schema.ts';
import { padCount } from '../../src/spec/useless.ts';
import { changed, PLAIN_RING } from './sample.ts';

const OPEN = '../shared/open-io-cells';
const thereAre = existsSync(OPEN);
if (!thereAre) {
  const said = `${OPEN} is not there: the rings of the open libraries are not read here`;
  if (process.env.CI) throw new Error(said);
  console.warn(said);
}

interface Fixture {
  readonly path: string;
  readonly pads: number;
  readonly styles: readonly string[];
  readonly sections: readonly string[];
  readonly fits?: true;
}

const OWN: readonly Fixture[] = [
  { path: 'fixtures/starter/ring.yaml', pads: 16, styles: ['inline'], sections: ['main'] },
  { path: 'fixtures/tide-gauge/ring.yaml', pads: 48, styles: ['inline'], sections: ['digital', 'analog'] },
  {
    path: 'fixtures/frost-hub/ring.yaml',
    pads: 120,
    styles: ['staggered'],
    sections: ['sensing', 'valves', 'main'],
  },
  {
    path: 'fixtures/lamp-controller/ring.yaml',
    pads: 200,
    styles: ['over-circuit'],
    sections: ['drive', 'logic'],
    fits: true,
  },
];
const ON_OPEN: readonly Fixture[] = [
  { path: 'fixtures/open-130/inline.ring.yaml', pads: 44, styles: ['inline'], sections: ['main'] },
  {
    path: 'fixtures/open-130/staggered.ring.yaml',
    pads: 48,
    styles: ['staggered'],
    sections: ['main'],
    fits: true,
  },
  { path: 'fixtures/open-180/ring.yaml', pads: 44, styles: ['in-cell'], sections: ['logic', 'pump'] },
];

const readFile = (path: string): Outcome<string> =>
  existsSync(path) ? found(readFileSync(path, 'utf8')) : failed({ code: 'no-file', message: `no ${path}` });

function read(path: string): { readonly ring: Ring; readonly notes: readonly string[] } {
  const outcome = readRing(readFile, path, ruleList);
  if (!outcome.ok) throw new Error(outcome.problems.map(problemText).join('\n'));
  return { ring: outcome.value, notes: outcome.notes.map(problemText) };
}

describe('the demonstrations', () => {
  for (const fixture of [...OWN, ...(thereAre ? ON_OPEN : [])])
    test(fixture.path, () => {
      const { ring, notes } = read(fixture.path);
      expect(notes).toEqual([]);
      const entries = SIDES.flatMap((side) => ring.sides[side].entries);
      expect(entries.reduce((sum, entry) => sum + padCount(entry), 0)).toBe(fixture.pads);
      expect([...new Set(SIDES.map((side) => ring.sides[side].style))]).toEqual(fixture.styles);
      expect(ring.sections.map((section) => section.name)).toEqual(fixture.sections);
      expect(ring.die === null).toBe(fixture.fits === true);
    });
});

describe('the JSON Schema', () => {
  const accepts = new Ajv2020({ strict: false, allErrors: true }).compile(ringJsonSchema());

  test('is of draft 2020-12 and explains every key', () => {
    const schema = ringJsonSchema() as {
      $schema?: string;
      properties?: Record<string, { description?: string }>;
    };
    expect(schema.$schema).toBe('https://json-schema.org/draft/2020-12/schema');
    const silent: string[] = [];
    const walk = (node: unknown, path: string): void => {
      if (typeof node !== 'object' || node === null) return;
      const { properties } = node as { properties?: Record<string, { description?: string }> };
      for (const [key, one] of Object.entries(properties ?? {}))
        if (!one.description) silent.push(`${path}.${key}`);
      for (const [key, one] of Object.entries(node)) if (typeof one === 'object') walk(one, `${path}.${key}`);
    };
    walk(schema, '');
    expect(silent).toEqual([]);
  });

  for (const { path } of [...OWN, ...ON_OPEN])
    test(`accepts ${path}`, () => {
      accepts(parse(readFileSync(path, 'utf8')));
      expect(accepts.errors ?? []).toEqual([]);
    });

  test.each([
    ['a misspelt key', [['die: {width', 'dye: {width']]],
    ['a misspelt key of a cell', [['{pin: A0, cell: io_bi}', '{pin: A0, cel: io_bi}']]],
    ['a word that is none', [['die: {width: 2000, height: 1800}', 'die: fits']]],
    ['a negative length', [['toCell: 5', 'toCell: -5']]],
    ['a text for a number', [['pitch: 70', 'pitch: wide']]],
    ['sides and pins', [['sides:\n', 'pins: a.csv\nsides:\n']]],
    ['neither sides nor pins', [[PLAIN_RING.slice(PLAIN_RING.indexOf('sides:')), '']]],
    ['a rule of no kind', [['sides:\n', 'neighbours: [{distance: 8}]\nsides:\n']]],
  ] as const)('refuses %s', (_, swaps) => {
    expect(accepts(parse(PLAIN_RING))).toBe(true);
    expect(accepts(parse(changed(PLAIN_RING, ...swaps)))).toBe(false);
  });
});
