/**
 * Shows `ringwright diff` as its function: 0 for one ring, 1 for two, 2 where a file cannot be read; text, JSON and the
 * drawing; nothing written where anything is wrong.
 *
 * Source of the values: the placements of this folder's sample, written and edited here.
 */
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { diff } from '../../src/commands/diff.ts';
import type { Placement } from '../../src/format/placement.ts';
import { placementJson } from '../../src/write/json.ts';
import { sample } from '../layout/sample.ts';

const folder = mkdtempSync(join(tmpdir(), 'ringwright-diff-'));
afterAll(() => rmSync(folder, { recursive: true }));
const file = (name: string, text: string): string => {
  const path = join(folder, name);
  writeFileSync(path, text);
  return path;
};
const placed = (name: string, placement: Placement): string => file(name, placementJson(placement));

const before = placed('before.json', sample());
const now = placed('now.json', sample({ sides: { top: [{ pin: 'module' }] } }));

describe('ringwright diff', () => {
  it('ends in 0 for one ring and in 1 for two', async () => {
    expect(await diff(before, before, {})).toEqual({ status: 0, out: 'the same ring\n', err: '' });
    const other = await diff(before, now, {});
    expect(other).toMatchObject({ status: 1, err: '' });
    expect(other.out).toMatch(/^1 pin removed\nremoved\n {2}clk: number 10, top side /u);
  });

  it('prints the difference as plain data', async () => {
    const { status, out } = await diff(before, now, { json: true });
    expect(status).toBe(1);
    const data = JSON.parse(out);
    expect([data.status, data.removed.length, data.removed[0].pin, data.added]).toEqual([1, 1, 'clk', []]);
    const same = JSON.parse((await diff(now, now, { json: true })).out);
    expect([same.status, same.moved, same.die]).toEqual([0, [], null]);
  });

  it('draws into a file, over an older drawing, and leaves nothing else behind', async () => {
    const target = join(folder, 'drawings', 'diff.svg');
    const { out } = await diff(before, now, { output: target });
    expect(out).toContain(`wrote ${target}\n`);
    const first = readFileSync(target, 'utf8');
    expect(first).toMatch(/^<\?xml/u);
    await diff(now, before, { output: target });
    expect(readFileSync(target, 'utf8')).not.toBe(first);
    expect(readdirSync(join(folder, 'drawings'))).toEqual(['diff.svg']);
  });

  it('ends in 2 with every problem of both files, and writes nothing', async () => {
    const version = file(
      'version.json',
      readFileSync(before, 'utf8').replace('"version": 1', '"version": 7'),
    );
    const torn = file('torn.json', '{"format": ');
    const target = join(folder, 'none.svg');
    const outcome = await diff(version, torn, { output: target });
    expect(outcome).toMatchObject({ status: 2, out: '' });
    expect(outcome.err).toContain('version.json');
    expect(outcome.err).toContain('torn.json');
    expect(existsSync(target)).toBe(false);
    expect(await diff(before, join(folder, 'absent.json'), {})).toMatchObject({ status: 2, out: '' });
  });

  it('ends in 2 where the drawing cannot be written', async () => {
    mkdirSync(join(folder, 'taken'));
    const outcome = await diff(before, now, { output: join(folder, 'taken') });
    expect(outcome).toMatchObject({ status: 2, out: '' });
    expect(outcome.err).toContain('[is-a-folder]');
    expect(readdirSync(folder).filter((name) => name.endsWith('.part'))).toEqual([]);
  });
});
