/**
 * The output folder: a set of files that belong together, and last the manifest that says so.
 *
 * Every file is written whole under a temporary name of the folder, the manifest too, before the first is renamed
 * into place; what an earlier set had beyond this one is removed before the manifest takes its place. A run that
 * is killed leaves a complete set, old or new, or one that its manifest shows to be mixed; what it wrote under
 * temporary names is taken away by the next run, which knows from a manifest among them what else that run may
 * have put there. Two runs at once need no lock: whichever manifest is last is true or shows the mixture.
 */
import { randomBytes } from 'node:crypto';
import {
  closeSync,
  lstatSync,
  mkdirSync,
  openSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  type Stats,
  statSync,
  writeFileSync,
} from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { failed, found, type Outcome, type Problem } from '../problems/problem.ts';
import {
  bytesOf,
  type Content,
  type Entries,
  type Entry,
  entryOf,
  isForeign,
  isPlainName,
  MANIFEST,
  manifestText,
  readManifest,
} from './manifest.ts';

/** `.ringwright-<process>-<random>.<name>.part`: which process wrote it tells whether it may be taken away. */
const TEMPORARY = /^\.ringwright-(\d+)-[0-9a-f]+\.(.+)\.part$/;

export type SetState = 'complete' | 'mixed' | 'absent';

export interface SetCheck {
  readonly state: SetState;
  /** What does not fit the manifest: files that are missing, of other content, or of another set. */
  readonly amiss: readonly string[];
}

/** Writes a set into a folder, which is made where it is missing; the value is the number of files written. */
export function writeSet(dir: string, files: ReadonlyMap<string, Content>): Outcome<number> {
  const wrong = [...files.keys()].filter((name) => !isPlainName(name));
  if (wrong.length > 0)
    return failed({ code: 'bad-file-name', message: `no file of a set can be called ${wrong.join(', ')}` });
  try {
    makeFolder(resolve(dir));
    const obstacle = obstacleIn(dir, files);
    if (obstacle !== undefined) return failed(obstacle);
    try {
      replaceSet(dir, files);
    } catch (error) {
      // A run of another machine on the same folder may have taken a temporary file for one that was left behind.
      if (codeOf(error) !== 'ENOENT') throw error;
      replaceSet(dir, files);
    }
    return found(files.size);
  } catch (error) {
    return failed(problemOf(dir, error));
  }
}

/** Makes a folder and those around it, one by one: a system that refuses one (as /proc does) is heard at once. */
function makeFolder(dir: string): void {
  if (kindOf(dir) !== undefined || statsOf(dir)?.isDirectory() === true) {
    if (statsOf(dir)?.isDirectory() === true) return;
    throw Object.assign(new Error('a file is in the way'), { code: 'EEXIST' });
  }
  const around = dirname(dir);
  if (around !== dir) makeFolder(around);
  try {
    mkdirSync(dir);
  } catch (error) {
    // Another run may have made it meanwhile.
    if (codeOf(error) !== 'EEXIST') throw error;
  }
}

const statsOf = (path: string): Stats | undefined => statSync(path, { throwIfNoEntry: false });

/** What must not be overwritten. */
function obstacleIn(dir: string, files: ReadonlyMap<string, Content>): Problem | undefined {
  const blocked = [...files.keys(), MANIFEST].find((name) => kindOf(join(dir, name)) === 'folder');
  if (blocked !== undefined)
    return {
      code: 'file-blocked',
      message: `${join(dir, blocked)} is a folder, but a file of that name is to be written`,
      mend: 'move the folder away, or choose another output folder',
    };
  if (!isForeign(textOf(join(dir, MANIFEST)))) return undefined;
  return {
    code: 'foreign-manifest',
    message: `${join(dir, MANIFEST)} is not of this program and would be overwritten`,
    mend: 'choose another output folder',
  };
}

function replaceSet(dir: string, files: ReadonlyMap<string, Content>): void {
  const bytes = new Map([...files].map(([name, content]) => [name, bytesOf(content)]));
  const entries = new Map([...bytes].map(([name, content]) => [name, entryOf(content)]));
  const prefix = freshPrefix();
  const temporary = (name: string) => join(dir, `${prefix}.${name}.part`);
  const made: string[] = [];
  const put = (name: string, content: Uint8Array) => {
    made.push(temporary(name));
    writeFresh(temporary(name), content);
  };
  try {
    put(MANIFEST, bytesOf(manifestText(entries)));
    for (const [name, content] of bytes) put(name, content);
    for (const name of files.keys()) renameSync(temporary(name), join(dir, name));
    const stale = staleFiles(dir, entries);
    for (const name of stale.files) rmSync(join(dir, name), { force: true });
    const taken = join(dir, `${freshPrefix()}.${MANIFEST}.part`);
    takeAside(join(dir, MANIFEST), taken);
    renameSync(temporary(MANIFEST), join(dir, MANIFEST));
    removeListed(dir, taken, entries);
    for (const name of stale.temporary) removeQuietly(join(dir, name));
  } catch (error) {
    for (const path of made) removeQuietly(path);
    throw error;
  }
}

const freshPrefix = (): string => `.ringwright-${process.pid}-${randomBytes(6).toString('hex')}`;

/**
 * Moves the manifest that stands there aside, whosever it is, so that no run's list of files is ever lost: another run
 * may have put its own there since the stale files were looked for.
 */
function takeAside(manifest: string, taken: string): void {
  try {
    renameSync(manifest, taken);
  } catch (error) {
    if (codeOf(error) !== 'ENOENT') throw error;
  }
}

/** Removes what a manifest that was taken aside lists beyond this set, if it still is as listed, and then the manifest. */
function removeListed(dir: string, taken: string, entries: Entries): void {
  for (const [name, entry] of manifestOf(taken) ?? [])
    if (!entries.has(name) && holds(dir, name, entry)) removeQuietly(join(dir, name));
  removeQuietly(taken);
}

/** Whether a folder holds a whole set, as its manifest and the temporary files of killed runs tell. */
export function checkSet(dir: string): SetCheck {
  const manifest = manifestOf(join(dir, MANIFEST));
  const { plans } = leftovers(dir);
  if (manifest === undefined) {
    const amiss = namesOf(plans).filter((name) => kindOf(join(dir, name)) === 'file');
    return { state: amiss.length > 0 ? 'mixed' : 'absent', amiss };
  }
  const amiss = [...manifest].filter(([name, entry]) => !holds(dir, name, entry)).map(([name]) => name);
  const foreign = namesOf(plans).filter(
    (name) => !manifest.has(name) && plans.some((plan) => holds(dir, name, plan.get(name))),
  );
  const all = [...amiss, ...foreign];
  return { state: all.length > 0 ? 'mixed' : 'complete', amiss: all };
}

const namesOf = (plans: readonly Entries[]): string[] => [
  ...new Set(plans.flatMap((plan) => [...plan.keys()])),
];

interface Stale {
  readonly files: readonly string[];
  readonly temporary: readonly string[];
}

/**
 * What earlier runs left: files of their sets that are not in this one, each only if it still is as they wrote
 * it, since one that was changed has become somebody's own; and temporary files of runs that are no more.
 */
function staleFiles(dir: string, entries: Entries): Stale {
  const { plans, dead } = leftovers(dir);
  const old = manifestOf(join(dir, MANIFEST));
  const all = old === undefined ? plans : [...plans, old];
  const files = namesOf(all).filter(
    (name) => !entries.has(name) && all.some((plan) => holds(dir, name, plan.get(name))),
  );
  return { files, temporary: dead };
}

/** The manifests that runs left under temporary names, and every temporary file whose run has ended. */
function leftovers(dir: string): { readonly plans: readonly Entries[]; readonly dead: readonly string[] } {
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

function textOf(path: string): string | undefined {
  try {
    return readFileSync(path, 'utf8');
  } catch {
    return undefined;
  }
}

function manifestOf(path: string): Entries | undefined {
  const text = textOf(path);
  return text === undefined ? undefined : readManifest(text);
}

function holds(dir: string, name: string, entry: Entry | undefined): boolean {
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

function kindOf(path: string): 'file' | 'folder' | undefined {
  try {
    return lstatSync(path).isDirectory() ? 'folder' : 'file';
  } catch {
    return undefined;
  }
}

/**
 * Writes a new file. It is not forced onto the disk: a machine that loses its power in between is told by the manifest's
 * hashes, as a killed run is, and waiting for the disk would be a good part of a build's time.
 */
function writeFresh(path: string, content: Uint8Array): void {
  const file = openSync(path, 'wx', 0o666);
  try {
    writeFileSync(file, content);
  } finally {
    closeSync(file);
  }
}

function removeQuietly(path: string): void {
  try {
    rmSync(path, { force: true });
  } catch {
    // The next run takes it away; the first problem is the one to tell.
  }
}

const codeOf = (error: unknown): string =>
  error instanceof Error && 'code' in error && typeof error.code === 'string' ? error.code : '';

function problemOf(dir: string, error: unknown): Problem {
  const elsewhere = 'choose another output folder';
  switch (codeOf(error)) {
    case 'ENOSPC':
    case 'EDQUOT':
    case 'EFBIG':
      return {
        code: 'disk-full',
        message: `the disk has no room for the files of ${dir}; none was changed`,
        mend: `free some room, or ${elsewhere}`,
      };
    case 'EACCES':
    case 'EPERM':
    case 'EROFS':
      return {
        code: 'no-permission',
        message: `${dir} cannot be written to: no permission`,
        mend: `allow writing there, or ${elsewhere}`,
      };
    case 'EEXIST':
    case 'ENOTDIR':
      return {
        code: 'not-a-folder',
        message: `${dir} cannot be an output folder: a file is in its way`,
        mend: `move the file away, or ${elsewhere}`,
      };
    default: {
      const reason = error instanceof Error ? error.message : String(error);
      return { code: 'cannot-write', message: `${dir} cannot be written to: ${reason}`, mend: elsewhere };
    }
  }
}
