/** What stands in an output folder: its manifest, what killed runs left, and whether its files are one set. */
import { lstatSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { type Entries, type Entry, entryOf, MANIFEST, readManifest } from './manifest.ts';

/** `.ringwright-<process>-<random>.<name>.part`: which process wrote it tells whether it may be taken away. */
const TEMPORARY = /^\.ringwright-(\d+)-[0-9a-f]+\.(.+)\.part$/;

type SetState = 'complete' | 'mixed' | 'absent';

export interface SetCheck {
  readonly state: SetState;
  /** The files that the manifest lists. */
  readonly names: readonly string[];
  /** What does not fit the manifest: files that are missing, of other content, or of another set. */
  readonly amiss: readonly string[];
}

/** Whether a folder holds a whole set, as its manifest and the temporary files of killed runs tell. */
export function checkSet(dir: string): SetCheck {
  const manifest = manifestOf(join(dir, MANIFEST));
  const { plans } = leftovers(dir);
  if (manifest === undefined) {
    const amiss = namesOf(plans).filter((name) => kindOf(join(dir, name)) === 'file');
    return { state: amiss.length > 0 ? 'mixed' : 'absent', names: [], amiss };
  }
  const amiss = [...manifest].filter(([name, entry]) => !holds(dir, name, entry)).map(([name]) => name);
  const foreign = namesOf(plans).filter(
    (name) => !manifest.has(name) && plans.some((plan) => holds(dir, name, plan.get(name))),
  );
  const all = [...amiss, ...foreign];
  return { state: all.length > 0 ? 'mixed' : 'complete', names: [...manifest.keys()], amiss: all };
}

export const namesOf = (plans: readonly Entries[]): string[] => [
  ...new Set(plans.flatMap((plan) => [...plan.keys()])),
];

/** The manifests that runs left under temporary names, and every temporary file whose run has ended. */
export function leftovers(dir: string): {
  readonly plans: readonly Entries[];
  readonly dead: readonly string[];
} {
  const plans: Entries[] = [];
  const dead: string[] = [];
  for (const name of namesIn(dir)) {
    const [, run, target] = TEMPORARY.exec(name) ?? [];
    if (run === undefined) continue;
    if (target === MANIFEST) {
      const plan = manifestOf(join(dir, name));
      if (plan !== undefined) plans.push(plan);
    }
    if (!isRunning(Number(run))) dead.push(name);
  }
  return { plans, dead };
}

function namesIn(dir: string): readonly string[] {
  try {
    return readdirSync(dir);
  } catch {
    return [];
  }
}

/** Whether a process of that number is there; one that we may not signal is. */
function isRunning(run: number): boolean {
  if (run === process.pid) return false;
  try {
    process.kill(run, 0);
    return true;
  } catch (error) {
    return codeOf(error) === 'EPERM';
  }
}

export function textOf(path: string): string | undefined {
  try {
    return readFileSync(path, 'utf8');
  } catch {
    return undefined;
  }
}

export function manifestOf(path: string): Entries | undefined {
  const text = textOf(path);
  return text === undefined ? undefined : readManifest(text);
}

export function holds(dir: string, name: string, entry: Entry | undefined): boolean {
  if (entry === undefined) return false;
  try {
    const path = join(dir, name);
    const stats = lstatSync(path);
    if (!stats.isFile() || stats.size !== entry.size) return false;
    return entryOf(readFileSync(path)).sha256 === entry.sha256;
  } catch {
    return false;
  }
}

export function kindOf(path: string): 'file' | 'folder' | undefined {
  try {
    return lstatSync(path).isDirectory() ? 'folder' : 'file';
  } catch {
    return undefined;
  }
}

/** The system's word for an error. */
export const codeOf = (error: unknown): string =>
  error instanceof Error && 'code' in error && typeof error.code === 'string' ? error.code : '';
