/**
 * Shows: the checker shares no code with what it judges. Bundled alone it pulls in no file of plan, fit, place or
 * size, of geometry the units only, and of problems which signs look alike. Source: issue 3; the architecture's table of imports.
 */
import { build } from 'esbuild';
import { expect, it } from 'vitest';

it('bundles alone without the placer', async () => {
  const { metafile } = await build({
    entryPoints: ['src/check/judge.ts'],
    bundle: true,
    write: false,
    metafile: true,
    platform: 'neutral',
    logLevel: 'silent',
  });
  const folders = new Map<string, string[]>();
  for (const file of Object.keys(metafile.inputs)) {
    const [, folder = '', name = ''] = /^src\/([^/]+)\/(.*)$/.exec(file) ?? ['', file, ''];
    folders.set(folder, [...(folders.get(folder) ?? []), name]);
  }
  expect(folders.get('check')).toContain('judge.ts');
  for (const station of ['plan', 'fit', 'place', 'size', 'spec', 'library'])
    expect(folders.has(station), station).toBe(false);
  expect(folders.get('geometry')).toEqual(['units.ts']);
  expect(folders.get('problems')).toEqual(['look-alikes.ts']);
  expect([...folders.keys()].sort()).toEqual(['check', 'geometry', 'problems']);
});
