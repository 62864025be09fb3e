/**
 * Shows: what each command prints and the exit status that it ends with: 0 sound, 1 a broken rule or a ring that cannot
 * be laid, 2 unreadable input, a wrong call or a fault; nothing is written where the ring is not laid.
 * Source: the README's table of exit statuses; no outside source.
 */
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { ringwright, scratchFolder } from '../helpers/program.ts';

const folder = scratchFolder();
const read = (...path: string[]): string => readFileSync(join(folder, ...path), 'utf8');

/** A changed copy of the starter ring; the change must hit something. */
function changed(name: string, from: string | RegExp, to: string): string {
  const text = read('start', 'ring.yaml');
  const next = text.replace(from, to);
  expect(next).not.toBe(text);
  writeFileSync(join(folder, 'start', name), next);
  return join('start', name);
}

describe('the newcomer: init, build, a change, mistakes', () => {
  it('init puts a ring that builds as it is', () => {
    expect(ringwright(['init', 'start'], folder).status).toBe(0);
    const built = ringwright(['build', 'start/ring.yaml', '-o', 'first'], folder);
    expect(built.err).toBe('');
    expect(built.status).toBe(0);
    expect(readdirSync(join(folder, 'first'))).toEqual(
      expect.arrayContaining(['placement.json', 'ring.svg', 'detail.svg', 'bond-pads.csv', 'manifest.json']),
    );
  });

  it('init overwrites nothing', () => {
    const again = ringwright(['init', 'start'], folder);
    expect(again.status).toBe(2);
    expect(again.err).toContain('not overwritten');
  });

  it('a misspelt key ends in 2 with file, line, column and the nearest known key; nothing is written', () => {
    const ring = changed('misspelt.yaml', /^bondPads:/m, 'bondPds:');
    const line =
      read('start', 'misspelt.yaml')
        .split('\n')
        .findIndex((l) => l.startsWith('bondPds')) + 1;
    const ran = ringwright(['build', ring, '-o', 'misspelt'], folder);
    expect(ran.status).toBe(2);
    expect(ran.err).toContain(`${ring}:${line}:1:`);
    expect(ran.err).toContain('bondPads');
    expect(existsSync(join(folder, 'misspelt'))).toBe(false);
  });

  it('a die that is too small ends in 1, says by how much on which side and what would do; nothing is written', () => {
    const ring = changed('small.yaml', /^die:.*$/m, 'die: {width: 700, height: 700}');
    const ran = ringwright(['build', ring, '-o', 'small'], folder);
    expect(ran.status).toBe(1);
    expect(ran.err).toMatch(
      /the left side needs a die height of \d+(\.\d+)? um, and it is 700 um: \d+(\.\d+)? um too small/,
    );
    expect(ran.err).toMatch(/nearest height/);
    expect(existsSync(join(folder, 'small'))).toBe(false);
  });

  it('checks the placement that it wrote, and finds an edit of it', () => {
    expect(ringwright(['check', 'first/placement.json'], folder).status).toBe(0);
    const placement = JSON.parse(read('first', 'placement.json'));
    placement.cells[0].x += placement.units.grid;
    mkdirSync(join(folder, 'edited'));
    writeFileSync(join(folder, 'edited', 'placement.json'), JSON.stringify(placement));
    const ran = ringwright(['check', 'edited/placement.json', '--json'], folder);
    expect(ran.status).toBe(1);
    expect(JSON.parse(ran.out).findings.length).toBeGreaterThan(0);
  });
});

describe('wrong calls end in 2', () => {
  it.each([
    ['no such command', ['biuld', 'x.yaml']],
    ['no such option', ['build', 'x.yaml', '--nope']],
    ['no argument', ['build']],
    ['no such file', ['build', 'nowhere.yaml']],
    ['a folder instead of a file', ['build', '.']],
    ['a device instead of a file', ['build', '/dev/zero']],
    ['nothing to check', ['check']],
    ['not JSON', ['check', 'start/ring.json']],
  ])('%s', (_what, args) => {
    writeFileSync(join(folder, 'start', 'ring.json'), '{"format": ');
    const ran = ringwright(args, folder);
    expect(ran.status).toBe(2);
    expect(ran.err).not.toBe('');
    expect(ran.err).not.toMatch(/\n\s+at .*:\d+:\d+/);
  });
});

describe('help and lists', () => {
  it('says of a folder whether its files are one set, and overwrites no file of somebody else', () => {
    const build = () => ringwright(['build', 'start/ring.yaml', '-o', 'whole'], folder);
    mkdirSync(join(folder, 'whole'));
    expect(ringwright(['check', 'whole'], folder)).toMatchObject({ status: 2 });
    expect(ringwright(['check', 'whole'], folder).err).toContain('has no manifest of this program');
    writeFileSync(join(folder, 'whole', 'ring.svg'), 'drawn by hand');
    const refused = build();
    expect(refused.status).toBe(2);
    expect(refused.err).toMatch(/whole.ring\.svg is there already/);
    expect(refused.err).toContain('choose another output folder, or move it away');
    expect(readdirSync(join(folder, 'whole'))).toEqual(['ring.svg']);
    rmSync(join(folder, 'whole', 'ring.svg'));
    expect(build().status).toBe(0);
    const whole = ringwright(['check', 'whole'], folder);
    expect(whole).toMatchObject({ status: 0, err: '' });
    expect(whole.out).toBe('whole: a complete set of 5 files\nstarter: sound, 0 findings\n');
    writeFileSync(join(folder, 'whole', 'ring.svg'), 'drawn by hand');
    const mixed = ringwright(['check', 'whole'], folder);
    expect(mixed.status).toBe(1);
    expect(mixed.err).toContain('whole holds a mixed set: ring.svg is not as its manifest says');
    expect(JSON.parse(ringwright(['check', 'whole', '--json'], folder).out)).toMatchObject({
      status: 1,
      set: { state: 'mixed', amiss: ['ring.svg'] },
    });
    const inside = ringwright(['check', join('whole', 'placement.json')], folder);
    expect(inside.status).toBe(0);
    expect(inside.err).toContain('whole holds a mixed set: ring.svg');
    expect(build().status).toBe(0);
    expect(ringwright(['check', 'whole'], folder).status).toBe(0);
  });

  it('every command shows an example', () => {
    const help = ringwright(['--help'], folder);
    expect(help.status).toBe(0);
    const commands = [...help.out.matchAll(/^ {2}([a-z]+)\b.*$/gm)]
      .map((m) => m[1] ?? '')
      .filter((c) => c !== 'help');
    expect(commands.length).toBeGreaterThanOrEqual(4);
    for (const command of commands) {
      const own = ringwright([command, '--help'], folder);
      expect(own.status).toBe(0);
      expect(own.out).toContain(`Example:\n  ringwright ${command}`);
    }
  });

  it('lists the rules with what each protects', () => {
    const ran = ringwright(['check', '--rules', '--json'], folder);
    const rules: { name: string; protects: string; mend: string }[] = JSON.parse(ran.out);
    expect(ran.status).toBe(0);
    expect(rules.length).toBeGreaterThan(30);
    expect(rules.every((rule) => rule.protects.length > 20 && rule.mend.length > 10)).toBe(true);
  });

  it('--json prints one JSON value, for soundness and for errors alike', () => {
    expect(
      JSON.parse(ringwright(['build', 'start/ring.yaml', '-o', 'json', '--json'], folder).out).status,
    ).toBe(0);
    const refused = ringwright(['build', 'nowhere.yaml', '--json'], folder);
    expect(JSON.parse(refused.out).problems[0].code).toBe('no-such-file');
    expect(refused.status).toBe(2);
  });
});
