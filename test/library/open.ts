/** The open libraries beside the project, and a scan of their LEF that shares nothing with the reader under test. */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import type { Library } from '../../src/library/footprint.ts';
import { readLibrary } from '../../src/library/read-library.ts';
import { failed, found, type Outcome, problemText } from '../../src/problems/problem.ts';

const OPEN = '../shared/open-io-cells';
export const LIBRARIES = [
  { name: 'open-130', cells: 'fixtures/open-130/cells.yaml', folder: `${OPEN}/ihp-sg13g2` },
  { name: 'open-180', cells: 'fixtures/open-180/cells.yaml', folder: `${OPEN}/gf180mcu` },
] as const;

export const thereAre = existsSync(OPEN);
if (!thereAre) {
  const said = `${OPEN} is not there: what is shown on the open libraries is left out`;
  if (process.env.CI) throw new Error(said);
  console.warn(said);
}

export const readFile = (path: string): Outcome<string> =>
  existsSync(path)
    ? found(readFileSync(path, 'utf8'))
    : failed({ code: 'no-file', message: `there is no file ${path}` });

export function libraryAt(path: string): Library {
  const read = readLibrary(readFile, path);
  if (!read.ok) throw new Error(read.problems.map(problemText).join('\n'));
  return read.value;
}

export const lefTexts = (folder: string): { path: string; text: string }[] =>
  readdirSync(folder)
    .filter((name) => name.endsWith('.lef'))
    .map((name) => ({ path: `${folder}/${name}`, text: readFileSync(`${folder}/${name}`, 'utf8') }));

export interface Scanned {
  size: [number, number];
  power: { pin: string; layer: string; rect: [number, number, number, number] }[];
}

/** Sizes and power rectangles by macro, line by line. */
export function scan(folder: string): Map<string, Scanned> {
  const cells = new Map<string, Scanned>();
  for (const { text } of lefTexts(folder)) {
    let cell: Scanned = { size: [0, 0], power: [] };
    let [pin, layer, power] = ['', '', false];
    for (const line of text.split('\n')) {
      const [word = '', ...rest] = line.trim().split(/\s+/);
      if (word === 'MACRO') {
        cell = { size: [0, 0], power: [] };
        cells.set(rest[0] ?? '', cell);
      }
      if (word === 'SIZE') cell.size = [Number(rest[0]), Number(rest[2])];
      if (word === 'PIN') [pin, power] = [rest[0] ?? '', false];
      if (word === 'OBS') power = false;
      if (word === 'USE') power = rest[0] === 'POWER' || rest[0] === 'GROUND';
      if (word === 'LAYER') layer = rest[0] ?? '';
      if (word === 'RECT' && power)
        cell.power.push({ pin, layer, rect: rest.slice(0, 4).map(Number) as Scanned['power'][0]['rect'] });
    }
  }
  return cells;
}
