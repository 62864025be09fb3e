/**
 * Shows: each station imports only what the house allows, and no file imports itself in a circle. Source: the table
 * below, which DEVELOPERS.md explains; imports are read from the source text.
 */
import { readdirSync, readFileSync, statSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';
import { expect, it } from 'vitest';

/** What each station may import beside itself; `run` and the like are the files at the top of src. */
const ALLOWED: Readonly<Record<string, readonly string[]>> = {
  geometry: [],
  problems: [],
  figures: [],
  source: ['geometry', 'problems'],
  format: ['geometry', 'problems', 'source'],
  library: ['geometry', 'problems', 'source'],
  spec: ['library', 'geometry', 'problems', 'source'],
  plan: ['spec', 'library', 'figures', 'geometry', 'problems'],
  fit: ['plan', 'spec', 'library', 'figures', 'geometry', 'problems', 'format'],
  place: ['fit', 'plan', 'spec', 'library', 'format', 'geometry', 'problems'],
  check: ['format', 'problems', 'geometry/units.ts'],
  electrical: ['format', 'figures', 'geometry', 'problems'],
  bond: ['format', 'figures', 'geometry', 'problems'],
  size: ['plan', 'fit', 'spec', 'library', 'figures', 'geometry', 'problems'],
  compare: ['format', 'geometry', 'problems'],
  write: ['format', 'figures', 'geometry', 'problems', 'size', 'compare', 'bond', 'electrical'],
  page: ['format'],
  serve: ['run', 'commands', 'write', 'page', 'format', 'problems'],
  commands: ['*'],
  run: ['*'],
  index: ['*'],
  cli: ['commands'],
};

function files(folder: string): readonly string[] {
  return readdirSync(folder).flatMap((name) => {
    const path = join(folder, name);
    if (statSync(path).isDirectory()) return files(path);
    return path.endsWith('.ts') && !path.endsWith('.d.ts') ? [path] : [];
  });
}

const SRC = resolve('src');
const station = (path: string): string => (relative(SRC, path).split('/')[0] ?? '').replace(/\.ts$/, '');

function importsOf(path: string): readonly { readonly target: string; readonly typeOnly: boolean }[] {
  const text = readFileSync(path, 'utf8').replace(/\/\*[\s\S]*?\*\//g, '');
  const found = text.matchAll(
    /(?:^|\n)\s*(?:import|export)\s+(type\s+)?[^'"]*?from\s+'(\.[^']+)'|import\('(\.[^']+)'\)/g,
  );
  return [...found].map((match) => ({
    target: resolve(dirname(path), match[2] ?? match[3] ?? ''),
    typeOnly: match[1] !== undefined,
  }));
}

it('no import against the table', () => {
  const against = files(SRC).flatMap((path) => {
    const from = station(path);
    const allowed = ALLOWED[from];
    if (allowed === undefined) return [`${relative(SRC, path)}: the table has no station ${from}`];
    if (allowed.includes('*')) return [];
    return importsOf(path)
      .filter(({ target }) => {
        const to = station(target);
        return to !== from && !allowed.includes(to) && !allowed.includes(relative(SRC, target));
      })
      .map(({ target }) => `${relative(SRC, path)} imports ${relative(SRC, target)}`);
  });
  expect(against).toEqual([]);
});

it('no circle of imports that run', () => {
  const graph = new Map(
    files(SRC).map((path) => [
      path,
      importsOf(path)
        .filter((i) => !i.typeOnly)
        .map((i) => i.target),
    ]),
  );
  const state = new Map<string, 'open' | 'done'>();
  const circles: string[] = [];
  const walk = (path: string, trail: readonly string[]): void => {
    if (state.get(path) === 'done') return;
    if (state.get(path) === 'open') {
      circles.push([...trail.slice(trail.indexOf(path)), path].map((p) => relative(SRC, p)).join(' -> '));
      return;
    }
    state.set(path, 'open');
    for (const next of graph.get(path) ?? []) walk(next, [...trail, path]);
    state.set(path, 'done');
  };
  for (const path of graph.keys()) walk(path, []);
  expect(circles).toEqual([]);
});
