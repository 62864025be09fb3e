/**
 * Shows: what `ringwright bond` prints, writes and ends in: 0 where no rule for wires is broken, 1 where one is, 2
 * where there is nothing to bond or the description is wrong; and that proposals change nothing by themselves.
 * Source: the README's table of exit statuses; no outside source.
 */
import { mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { bond } from '../../src/commands/bond.ts';
import { scratchFolder } from '../helpers/program.ts';

const folder = scratchFolder();
mkdirSync(join(folder, 'ring'));
const cells = resolve('fixtures/cells/harbour.cells.yaml');
const TIDE = readFileSync('fixtures/tide-gauge/ring.yaml', 'utf8').replace(
  '../cells/harbour.cells.yaml',
  cells,
);

/** A changed tide gauge. */
function changed(name: string, ...swaps: readonly (readonly [string | RegExp, string])[]): string {
  let text = TIDE;
  for (const [from, to] of swaps) {
    const next = text.replace(from, to);
    expect(next).not.toBe(text);
    text = next;
  }
  const path = join(folder, 'ring', name);
  writeFileSync(path, text);
  return path;
}

const CROSSED: readonly [string, string] = [
  '  wires: {metal: gold',
  '  bonds: {to: {SD_D0: 8, SD_D1: 7}, exchange: [[SD_D0, SD_D1]]}\n  wires: {metal: gold',
];

describe('ringwright bond', () => {
  it('tells the wires as a whole and ends in 0 where all are sound', async () => {
    const ran = await bond(changed('sound.yaml'), {});
    expect(ran.err).toBe('');
    expect(ran.status).toBe(0);
    expect(ran.out).toMatch(/^wires 48 of gold, 25\.4 um, in package 64 leads, 10 mm\n/);
    expect(ran.out).toMatch(
      /longest 1443 um in plan, 1600\.7 um with its loop; worst angle 27\.9 degrees; none cross\n/,
    );
    expect(ran.out).toMatch(/tide-gauge: 0 findings on wires\n$/);
  });

  it('tells what slack toward the fingers gained', async () => {
    const ran = await bond(changed('toward.yaml', [/^slack: .*$/m, 'slack: toward-fingers']), {});
    expect(ran.status).toBe(0);
    expect(ran.out).toMatch(/aside of straight, root mean square: left [\d.]+ um \([\d.]+ shared\), bottom/);
  });

  it('writes diagram, wires and bond pads', async () => {
    const out = join(folder, 'written');
    const ran = await bond(changed('sound.yaml'), { output: out });
    expect(ran.out).toContain(`wrote 3 files to ${out}\n`);
    expect(readdirSync(out).sort()).toEqual(['bond-pads.csv', 'bond.svg', 'manifest.json', 'wires.csv']);
    expect(readFileSync(join(out, 'wires.csv'), 'utf8').split('\r\n').length).toBe(50);
    const pads = readFileSync(join(out, 'bond-pads.csv'), 'utf8').split('\r\n');
    expect(pads[0]).toMatch(/,fingers,x_in_package_um,y_in_package_um,die_rotation_deg$/);
  });

  it('ends in 1 where wires cross, and proposes what parts them only when asked', async () => {
    const path = changed('crossed.yaml', CROSSED);
    const plain = await bond(path, {});
    expect(plain.status).toBe(1);
    expect(plain.out).toContain(
      'the wire from "SD_D0" to finger "8" and the wire from "SD_D1" to finger "7" cross',
    );
    expect(plain.out).not.toContain('exchange');
    const asked = await bond(path, { suggestOrder: true });
    expect(asked.status).toBe(1);
    expect(asked.out).toContain(
      'proposed, one after the other:\n  exchange SD_D0 and SD_D1\nwith them 0 crossings instead of 1, and 0 errors instead of 1\n',
    );
    expect(readFileSync(path, 'utf8')).toContain('to: {SD_D0: 8, SD_D1: 7}');
  });

  it('says so where there is nothing to exchange, and where no group helps', async () => {
    expect((await bond(changed('sound.yaml'), { suggestOrder: true })).out).toContain('no wires cross');
    const path = changed('alone.yaml', [CROSSED[0], CROSSED[1].replace(', exchange: [[SD_D0, SD_D1]]', '')]);
    expect((await bond(path, { suggestOrder: true })).out).toContain('no exchange within the groups');
  });

  it('prints JSON', async () => {
    const ran = await bond(changed('crossed.yaml', CROSSED), { json: true, suggestOrder: true });
    const report = JSON.parse(ran.out);
    expect(report.status).toBe(1);
    expect(report.wires.count).toBe(48);
    expect(report.findings).toHaveLength(1);
    expect(report.suggestion).toEqual({
      swaps: [['SD_D0', 'SD_D1']],
      before: 1,
      after: 0,
      errors: { before: 1, after: 0 },
    });
  });

  it('ends in 2 with the place where there is no package, and where a finger is unknown', async () => {
    const bare = await bond(
      changed('bare.yaml', [/^package:\n( .*\n)+/m, ''], [/^electrical:[\s\S]*/m, '']),
      {},
    );
    expect(bare.status).toBe(2);
    expect(bare.err).toContain('no `package`');
    const path = changed('unknown.yaml', [CROSSED[0], `  bonds: {to: {SD_D0: x9}}\n${CROSSED[0]}`]);
    const unknown = await bond(path, {});
    expect(unknown.status).toBe(2);
    expect(unknown.err).toMatch(/unknown\.yaml:\d+:\d+: the package `64 leads, 10 mm` has no finger `x9`/);
  });

  it('ends in 1 with the place of a finger that the die covers', async () => {
    const ran = await bond(
      changed('covered.yaml', ['distance: 2000', 'distance: 800'], ['pitch: 200', 'pitch: 100']),
      {},
    );
    expect(ran.status).toBe(1);
    expect(ran.err).toMatch(
      /covered\.yaml:\d+:\d+: finger `\d+` lies inside the die, which is 1700 x 1600 um on silicon/,
    );
  });
});
