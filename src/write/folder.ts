/**
 * The output folder: a set of files that belong together, and last the manifest that says so.
 *
 * Every file is written whole under a temporary name of the folder, the manifest too, before the first is renamed
 * into place; what an earlier set had beyond this one is removed before the manifest takes its place. A run that
 * is killed leaves a complete set, old or new, or one that its manifest shows to be mixed; what it wrote under
 * temporary names is taken away by the next run, which knows from a manifest among them what else that run may
 * have put there. A file of a set's name that no manifest lists, not even one that a killed run has left, is somebody's
 * own: it is never overwritten. Two runs at once need no lock: whichever manifest is last is true or shows the mixture.
 */
import { randomBytes } from 'node:crypto';
import {
  closeSync,
  mkdirSync,
  openSync,
  renameSync,
  rmSync,
  type Stats,
  statSync,
  writeFileSync,
} from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { failed, found, type Outcome, type Problem } from '../problems/problem.ts';
import { failureOf } from './failure.ts';
import {
  bytesOf,
  type Content,
  type Entries,
  entryOf,
  isForeign,
  isPlainName,
  MANIFEST,
  manifestText,
} from './manifest.ts';
import { codeOf, holds, kindOf, leftovers, manifestOf, namesOf, textOf } from './sets.ts';

/** Writes a set into a folder, which is made where it is missing; the value is the number of files written. */
export function writeSet(dir: string, files: ReadonlyMap<string, Content>): Outcome<number> {
  const wrong = [...files.keys()].filter((name) => !isPlainName(name));
  if (wrong.length > 0)
    return failed({ code: 'bad-file-name', message: `no file of a set can be called ${wrong.join(', ')}` });
  if (dir === '')
    return failed({
      code: 'no-name',
      message: 'the output folder is named by an empty text',
      mend: 'name a folder, such as `-o out/first`, or `-o .` for this one',
    });
  try {
    makeFolder(resolve(dir));
    const obstacle = obstacleIn(dir, files);
    if (obstacle !== undefined) return failed(obstacle);
    const strange = strangersIn(dir, files);
    if (strange.length > 0) return failed(inTheWay(dir, strange));
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

/** How often, and how long apart, a file that nothing lists is looked at: another run may just exchange its lists. */
const [LOOKS, APART] = [5, 20];

/**
 * Files that stand where this set's would go and that no run of ours put there: no manifest lists them, neither the
 * folder's nor one that a run has left or is just writing, and their content is not the set's own.
 */
function strangersIn(dir: string, files: ReadonlyMap<string, Content>): readonly string[] {
  for (let look = 1; ; look++) {
    // Lists under temporary names first: what is renamed in between is then found in its place.
    const { plans } = leftovers(dir);
    const manifest = manifestOf(join(dir, MANIFEST));
    const ours = new Set([...namesOf(plans), ...(manifest?.keys() ?? [])]);
    const strange = [...files].filter(
      ([name, content]) =>
        !ours.has(name) &&
        kindOf(join(dir, name)) !== undefined &&
        !holds(dir, name, entryOf(bytesOf(content))),
    );
    if (strange.length === 0 || look === LOOKS) return strange.map(([name]) => name);
    Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, APART);
  }
}

function inTheWay(dir: string, names: readonly string[]): Problem {
  const more = names.length > 3 ? ` and ${names.length - 3} more` : '';
  const [are, them] = names.length === 1 ? ['is', 'it'] : ['are', 'them'];
  return {
    code: 'file-in-the-way',
    message: `${names
      .slice(0, 3)
      .map((name) => join(dir, name))
      .join(', ')}${more} ${are} there already, and no manifest says that this program wrote ${them}`,
    mend: `choose another output folder, or move ${them} away`,
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

function problemOf(dir: string, error: unknown): Problem {
  const elsewhere = 'choose another output folder';
  switch (failureOf(error)) {
    case 'no-room':
      return {
        code: 'disk-full',
        message: `the disk has no room for the files of ${dir}; none was changed`,
        mend: `free some room, or ${elsewhere}`,
      };
    case 'no-permission':
      return {
        code: 'no-permission',
        message: `${dir} cannot be written to: no permission`,
        mend: `allow writing there, or ${elsewhere}`,
      };
    case 'in-the-way':
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
