/**
 * Shows: the README tells the truth. Its picture is what the program draws, its worked example is the starter ring's, its
 * commands and rules are the program's. Source: the program itself and the starter's arithmetic, spelled out below.
 */
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { expect, it } from 'vitest';
import { readText } from '../../src/commands/files.ts';
import type { Placement } from '../../src/format/placement.ts';
import { allRules, run } from '../../src/run.ts';
import { bondPadsCsv } from '../../src/write/bond-pads.ts';
import { ringSvg } from '../../src/write/ring-svg.ts';
import { ringwright } from '../helpers/program.ts';

const README = readFileSync('README.md', 'utf8');

function laid(path: string): Placement {
  const outcome = run(readText, path);
  if (outcome.kind !== 'laid') throw new Error(JSON.stringify(outcome));
  return outcome.placement;
}

it('its picture is the tide-gauge ring as the program draws it', () => {
  expect(README).toContain('(fixtures/tide-gauge/ring.svg)');
  const picture = readFileSync('fixtures/tide-gauge/ring.svg', 'utf8');
  expect(picture === ringSvg(laid('fixtures/tide-gauge/ring.yaml'))).toBe(true);
});

it('its worked example: 135 + 120 + 4 + 30 = 289 from the upper left corner of a die 800 high', () => {
  const placement = laid('fixtures/starter/ring.yaml');
  const pad = placement.bondPads[0];
  expect([pad?.number, pad?.pin, pad?.x, pad?.y]).toEqual([
    1,
    'RESET_N',
    60 + 70 / 2,
    800 - (135 + 120 + 4 + 30),
  ]);
  const [header, first] = bondPadsCsv(placement).split('\r\n');
  expect(README).toContain(header?.split(',').slice(0, 8).join(',') ?? 'no header');
  expect(README).toContain(first?.split(',').slice(0, 8).join(',') ?? 'no pad');
  const starter = readFileSync('fixtures/starter/ring.yaml', 'utf8').replace(/ *#.*$/gm, '');
  for (const line of ['die: {width: 840, height: 800}', '  toCell: 5', '    - {pin: RESET_N, cell: input}']) {
    expect(README).toContain(line);
    expect(starter).toContain(line);
  }
});

it('names every command, and no other', () => {
  const help = ringwright(['--help'], resolve('.')).out;
  const commands = [...help.matchAll(/^ {2}([a-z]+)\b.*$/gm)]
    .map((m) => m[1] ?? '')
    .filter((c) => c !== 'help');
  const told = [...README.matchAll(/^\| `ringwright ([a-z]+)/gm)].map((m) => m[1] ?? '');
  expect([...new Set(told)].sort()).toEqual([...new Set(commands)].sort());
});

it('lists every rule with what it protects', () => {
  const told = [...README.matchAll(/^\| `([a-z-]+)` \| (error|warning|note) \| (.*) \|$/gm)];
  expect(told.map((m) => [m[1], m[2], m[3]])).toEqual(
    allRules.map((rule) => [rule.name, rule.severity, rule.protects]),
  );
});
