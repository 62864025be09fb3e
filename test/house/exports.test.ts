/**
 * Shows: nothing is exported that the program never uses: what only a test needs stands with the tests. Source: the
 * house's own rule; exports and uses are read from the source text, types left out.
 */
import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';

const filesIn = (dir: string): readonly string[] =>
  readdirSync(dir).flatMap((name) => {
    const path = join(dir, name);
    return statSync(path).isDirectory() ? filesIn(path) : /\.(ts|mjs)$/.test(name) ? [path] : [];
  });

/** The library's own door. */
const DOOR = join('src', 'index.ts');

it('no function or value is exported that nothing in src uses', () => {
  const texts = new Map(filesIn('src').map((path) => [path, readFileSync(path, 'utf8')]));
  const uses = new Map<string, number>();
  for (const text of texts.values())
    for (const [word] of text.matchAll(/[A-Za-z_$][\w$]*/g)) uses.set(word, (uses.get(word) ?? 0) + 1);
  const exported = [...texts].flatMap(([path, text]) =>
    path === DOOR
      ? []
      : [...text.matchAll(/^export (?:async )?(?:function\*?|const|class) (\w+)/gm)].map(
          ([, name = '']) => name,
        ),
  );
  expect(exported.length).toBeGreaterThan(300);
  expect(exported.filter((name) => (uses.get(name) ?? 0) < 2)).toEqual([]);
});
