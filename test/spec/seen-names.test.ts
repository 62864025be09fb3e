/**
 * Shows: a name is what a reader sees. Signs that are invisible, turn a line around or are half of another are refused
 * wherever a name is written, told by their numbers; so are two names that look alike; and nothing of a placement that
 * holds some reaches the terminal raw. Source: UAX 15 (composed and wide forms), Unicode's Default_Ignorable_Code_Point.
 */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { check } from '../../src/commands/check.ts';
import type { Outcome } from '../../src/problems/problem.ts';
import { found } from '../../src/problems/problem.ts';
import { run } from '../../src/run.ts';
import { macro, readFiles } from '../library/small.ts';
import { outcomeOf, PLAIN_RING } from './sample.ts';

const told = (outcome: Outcome<unknown>): readonly string[] =>
  (outcome.ok ? [] : outcome.problems).map(
    ({ place, code, message }) => `${place?.file}:${place?.line}:${place?.column} ${code} ${message}`,
  );

/** Each as it stands in quotes in YAML, and as it is told. */
const SIGNS: readonly (readonly [string, string])[] = [
  ['\\u200b', 'U+200B'],
  ['\\u202e', 'U+202E'],
  ['\\u2066', 'U+2066'],
  ['\\ufeff', 'U+FEFF'],
  ['\\u00ad', 'U+00AD'],
  ['\\u3164', 'U+3164'],
  ['\\u2800', 'U+2800'],
  ['\\u00a0', 'U+00A0'],
  ['\\ufe0f', 'U+FE0F'],
  ['\\U000e0041', 'U+E0041'],
  ['\\u0085', 'U+0085'],
];

describe('a sign that cannot be seen is refused', () => {
  it.each(SIGNS)('%s in a pin of the description', (sign, number) => {
    const [problem, ...more] = told(outcomeOf(PLAIN_RING.replace('{pin: A0,', `{pin: "A${sign}0",`)));
    expect(more).toEqual([]);
    expect(problem).toMatch(/^ring\.yaml:19:13 wrong-form `sides\.left\[0\]\.pin` holds the sign /);
    expect(problem).toContain(`${number}, which cannot be seen`);
  });

  it('in the name of a section, told with the name written out', () => {
    const text = PLAIN_RING.replace('  main:\n', '  "ma\\u200bin":\n');
    expect(told(outcomeOf(text)).filter((line) => line.includes('U+200B'))).toEqual([
      expect.stringContaining('the name `ma\\u{200b}in` holds the sign U+200B'),
    ]);
  });

  it('in a list of pins', () => {
    const text = `${PLAIN_RING.slice(0, PLAIN_RING.indexOf('sides:'))}pins: pins.csv\n`;
    const files = { 'pins.csv': 'side,pin,cell\nleft,A\u200b0,io_bi\nbottom,VDD,pw_vdd\n' };
    expect(told(outcomeOf(text, { files }))[0]).toMatch(/^pins\.csv:2:6 wrong-form .*U\+200B/);
  });

  it('in a cell file and in LEF', () => {
    const cells = (more: string) => `name: l\n${more}\nlanes: {VDD: {strips: {M4: [[50, 60]]}}}\n`;
    const written = cells('cells: {"a\\u2060": {role: filler, width: 10, height: 100}}');
    expect(told(readFiles({ 'cells.yaml': written }))[0]).toMatch(/^cells\.yaml:2:9 wrong-form .*U\+2060/);
    const drawn = macro(
      'pad\u200b',
      'PAD INOUT',
      [40, 100],
      [{ pin: 'V\u200cDD', rects: [[0, 50, 40, 60]] }],
    );
    expect(told(readFiles({ 'cells.yaml': 'name: l\nlef: [a.lef]\n', 'a.lef': drawn }))).toEqual([
      expect.stringMatching(/^a\.lef:1:7 wrong-form the name of the macro `pad\\u\{200b\}` .*U\+200B/),
      expect.stringMatching(/^a\.lef:5:7 wrong-form the name of the pin `V\\u\{200c\}DD` .*U\+200C/),
    ]);
  });
});

describe('two names that look alike are refused', () => {
  const pins = (a: string, b: string): readonly string[] =>
    told(outcomeOf(PLAIN_RING.replace('pin: A0', `pin: ${a}`).replace('pin: A1', `pin: ${b}`)));

  it.each([
    ['a letter composed in one way and in another', 'r\u00e9f', 're\u0301f', '`r\\u{e9}f` and `re\\u{301}f`'],
    ['a letter of another alphabet', 'CTS', '\u0421TS', '`CTS` and `\\u{421}TS`'],
    ['a wide form', 'CLK', '\uff23\uff2c\uff2b', '`CLK` and `\\u{ff23}\\u{ff2c}\\u{ff2b}`'],
  ])('pins: %s', (_, a, b, spelled) => {
    expect(pins(a, `${a}2`)).toEqual([]);
    expect(pins(a, b)).toEqual([
      `ring.yaml:20:7 alike-names two pins have names that look like \`${b}\`: ${spelled}`,
    ]);
  });

  it('nets and sections', () => {
    const text = PLAIN_RING.replace('VSS: vss', 'VSS: \uff56dd');
    expect(told(outcomeOf(text))).toEqual([
      expect.stringMatching(/^ring\.yaml:14:\d+ alike-names two nets /),
    ]);
  });

  it('cells of a library', () => {
    const cell = '{role: filler, width: 10, height: 100}';
    const text = `name: l\nlanes: {VDD: {strips: {M4: [[50, 60]]}}}\ncells:\n  fill: ${cell}\n  \uff46ill: ${cell}\n`;
    expect(told(readFiles({ 'cells.yaml': text }))).toEqual([
      expect.stringMatching(/^cells\.yaml:5:3 alike-names two cells /),
    ]);
  });
});

it('nothing of a placement reaches the terminal raw', async () => {
  const outcome = run((path) => found(readFileSync(path, 'utf8')), 'fixtures/starter/ring.yaml');
  if (outcome.kind !== 'laid') throw new Error('not laid');
  const hostile = '\u001b[31m\u009b2J\u202eevil\u200b\ud800';
  const placement = {
    ...outcome.placement,
    ring: `ring${hostile}`,
    cells: outcome.placement.cells.map((cell, i) => (i === 1 ? { ...cell, name: hostile } : cell)),
    rules: {
      ...outcome.placement.rules,
      waivers: [{ rule: 'cell-section', items: [hostile], reason: `because${hostile}` }],
    },
  };
  const folder = mkdtempSync(join(tmpdir(), 'ringwright-names-'));
  try {
    const path = join(folder, 'placement.json');
    writeFileSync(path, JSON.stringify(placement));
    for (const json of [false, true]) {
      const { out, err, status } = await check(path, { json });
      expect(status).toBe(1);
      expect(out).toContain('name-unseen');
      expect(`${out}${err}`).not.toMatch(/[^\P{Cc}\n]|[\p{Cf}\p{Cs}]/u);
    }
    const { findings } = JSON.parse((await check(path, { json: true })).out);
    expect(findings[0].items).toContain(`ring${hostile}`);
  } finally {
    rmSync(folder, { recursive: true });
  }
});
