/** Rings in folders of their own, for the live view to watch: with a cell file, with a LEF file, with a pin list. */
import { cpSync, mkdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

/** The starter: `ring.yaml` and `cells.yaml`. */
export function starterIn(folder: string): string {
  mkdirSync(folder, { recursive: true });
  for (const name of ['ring.yaml', 'cells.yaml']) cpSync(`fixtures/starter/${name}`, join(folder, name));
  return join(folder, 'ring.yaml');
}

const LEF = `VERSION 5.8 ;
MACRO io
  CLASS PAD ;
  SIZE 60 BY 120 ;
  SYMMETRY X Y R90 ;
END io
END LIBRARY
`;

/** The starter whose cell `io` is drawn in `io.lef`. */
export function withLefIn(folder: string): string {
  const ring = starterIn(folder);
  writeFileSync(join(folder, 'io.lef'), LEF);
  edit(join(folder, 'cells.yaml'), 'name: starter', 'name: starter\nlef: [io.lef]');
  edit(join(folder, 'cells.yaml'), 'io: {role: signal, width: 60, height: 120,', 'io: {role: signal,');
  return ring;
}

/** The demonstration with its pins in `pins.csv`. */
export function withCsvIn(folder: string): string {
  cpSync('fixtures/frost-hub', join(folder, 'frost-hub'), { recursive: true });
  cpSync('fixtures/cells', join(folder, 'cells'), { recursive: true });
  return join(folder, 'frost-hub', 'ring.yaml');
}

/** Saves a file in place with one text replaced by another; the first must be there. */
export function edit(path: string, from: string, to: string): void {
  writeFileSync(path, edited(path, from, to));
}

/** The same as editors do it that write another file and rename it. */
export function editByRename(path: string, from: string, to: string): void {
  writeFileSync(`${path}.new`, edited(path, from, to));
  renameSync(`${path}.new`, path);
}

function edited(path: string, from: string, to: string): string {
  const text = readFileSync(path, 'utf8');
  if (!text.includes(from)) throw new Error(`${path} has no "${from}"`);
  return text.replace(from, to);
}
