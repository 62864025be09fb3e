/**
 * Watches files by looking at them again and again: where they stand, how long they are and when they were written.
 * That sees a file which an editor replaces by renaming another one, one that goes and comes back, and one on a disk
 * of another machine; and there is nothing to lose or to leak but one timer.
 */
import { statSync } from 'node:fs';
import { stat } from 'node:fs/promises';

/** How a file stands; another text each time it is written. */
export type Stand = string;

const ABSENT: Stand = 'absent';

interface Facts {
  readonly mtimeNs: bigint;
  readonly ctimeNs: bigint;
  readonly size: bigint;
  readonly ino: bigint;
}

const standOf = ({ mtimeNs, ctimeNs, size, ino }: Facts): Stand => `${mtimeNs} ${ctimeNs} ${size} ${ino}`;

/** How a file stands now. To be asked before the file is read, so that no later change goes unseen. */
export function standNow(path: string): Stand {
  try {
    return standOf(statSync(path, { bigint: true }));
  } catch {
    return ABSENT;
  }
}

const standSoon = (path: string): Promise<Stand> => stat(path, { bigint: true }).then(standOf, () => ABSENT);

/** In milliseconds: between looks, until a change counts as whole, and how long a busy writer is waited for. */
export interface Pace {
  readonly every: number;
  readonly settled: number;
  readonly patience: number;
}

const PACE: Pace = { every: 150, settled: 50, patience: 400 };

export interface Watch {
  /** Watches these files from now on, with how each stood when it was read. */
  readonly follow: (files: ReadonlyMap<string, Stand>) => void;
  readonly stop: () => void;
}

/** Calls `changed` after any of the files has changed and come to rest. */
export function watchFiles(changed: () => void, { every, settled, patience }: Pace = PACE): Watch {
  let files = new Map<string, Stand>();
  let timer: NodeJS.Timeout | undefined;
  let [stopped, waited]: [boolean, number | undefined] = [false, undefined];

  const look = async (): Promise<void> => {
    const known = files;
    const stands = await Promise.all(
      [...known.keys()].map(async (path) => [path, await standSoon(path)] as const),
    );
    if (stopped) return;
    if (known === files) {
      const moved = stands.filter(([path, stand]) => known.get(path) !== stand);
      for (const [path, stand] of moved) known.set(path, stand);
      // A file that is being written is left alone for a moment, or two; then it is read, and once more in the end.
      if (moved.length > 0) waited = (waited ?? 0) + settled;
      const rested = waited !== undefined && moved.length === 0;
      const busy = waited !== undefined && waited > patience;
      if (rested) waited = undefined;
      else if (busy) waited = 0;
      if (rested || busy) changed();
    }
    timer = setTimeout(look, waited === undefined ? every : settled);
  };
  timer = setTimeout(look, every);

  return {
    follow(next) {
      files = new Map(next);
    },
    stop() {
      stopped = true;
      clearTimeout(timer);
    },
  };
}
