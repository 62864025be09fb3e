/** The ring as the live view has it: laid again on each change, and the last one that could be laid. */
import type { Complaint } from '../page/payload.ts';
import type { Outcome, Problem } from '../problems/problem.ts';
import { type Run, run } from '../run.ts';
import { placementJson } from '../write/json.ts';
import { ringSvg } from '../write/ring-svg.ts';
import { type Stand, standNow } from './watch.ts';

export interface Session {
  /** Reads and lays again; true where anything has become different. */
  readonly refresh: () => boolean;
  /** What the page is told, as the text of JSON: a `Payload`. */
  readonly text: () => string;
  readonly version: () => number;
  /** How the last reading went. */
  readonly outcome: () => Run;
  /** Every file that the last reading asked for, with how it stood then. */
  readonly files: () => ReadonlyMap<string, Stand>;
}

interface Shown {
  readonly problems: readonly Complaint[];
  readonly notes: readonly Complaint[];
  /** Placement and drawing as the texts of JSON values; null before there is a ring. */
  readonly ring: { readonly placement: string; readonly drawing: string } | null;
}

export function openSession(path: string, read: (path: string) => Outcome<string>): Session {
  let files = new Map<string, Stand>();
  let outcome: Run = { kind: 'unreadable', problems: [] };
  let shown: Shown = { problems: [], notes: [], ring: null };
  let [version, body] = [0, ''];

  const runNow = (): Run => {
    const asked = new Map<string, Stand>();
    try {
      return run((wanted) => {
        if (!asked.has(wanted)) asked.set(wanted, standNow(wanted));
        return read(wanted);
      }, path);
    } catch (error) {
      // The view goes on: the next change may do better.
      const reason = error instanceof Error ? error.message : String(error);
      return {
        kind: 'unreadable',
        problems: [{ code: 'fault', message: `a fault of the program: ${reason}` }],
      };
    } finally {
      files = asked;
    }
  };

  const refresh = (): boolean => {
    outcome = runNow();
    shown = shownOf(outcome, shown.ring);
    const { problems, notes, ring } = shown;
    const drawn = ring === null ? 'null' : `{"placement":${ring.placement},"drawing":${ring.drawing}}`;
    const next = `"problems":${JSON.stringify(problems)},"notes":${JSON.stringify(notes)},"ring":${drawn}`;
    if (next === body) return false;
    body = next;
    version++;
    return true;
  };

  return {
    refresh,
    text: () => `{"version":${version},${body}}`,
    version: () => version,
    outcome: () => outcome,
    files: () => files,
  };
}

function shownOf(outcome: Run, last: Shown['ring']): Shown {
  switch (outcome.kind) {
    case 'unreadable':
      return { problems: outcome.problems.map(plain), notes: [], ring: last };
    case 'impossible':
      return { problems: outcome.problems.map(plain), notes: outcome.notes.map(plain), ring: last };
    case 'laid': {
      const { placement, notes } = outcome;
      const ring = { placement: placementJson(placement), drawing: JSON.stringify(ringSvg(placement)) };
      return { problems: [], notes: notes.map(plain), ring };
    }
  }
}

const plain = ({ code, message, mend, place }: Problem): Complaint => ({
  code,
  message,
  ...(mend === undefined ? {} : { mend }),
  ...(place === undefined ? {} : { place }),
});
