/** Warm medians of two things in turn, as the ratio of the first to the second. */

export interface Row {
  readonly what: string;
  readonly ratio: number;
  readonly spread?: readonly [number, number];
  readonly [more: string]: unknown;
}

export const report = (row: Row): void => console.log(JSON.stringify(row));

const median = (list: readonly number[]): number => {
  const sorted = [...list].sort((a, b) => a - b);
  return sorted[sorted.length >> 1] ?? Number.NaN;
};

function time(work: () => unknown): number {
  const start = performance.now();
  work();
  return performance.now() - start;
}

/** How long each batch of a processor ratio lasts at least: far above the step of the system's accounting. */
const BATCH_MS = 60;

/** Milliseconds of processor time that some runs take, the collector's threads included. */
function processorTime(work: () => unknown, runs: number): number {
  const before = process.cpuUsage();
  for (let k = 0; k < runs; k++) work();
  const { user, system } = process.cpuUsage(before);
  return (user + system) / 1000 / runs;
}

/**
 * The same as `ratioOf` in processor time instead of wall time: what other programs do meanwhile counts for nothing, and
 * the collector's own threads count in full. For things of a few milliseconds, of which each batch runs many.
 */
export function processorRatioOf(what: string, a: () => unknown, b: () => unknown, batches = 15): Row {
  for (let k = 0, start = performance.now(); k < 300 && performance.now() - start < 3000; k++) {
    a();
    b();
  }
  const runsOf = (work: () => unknown): number => Math.max(1, Math.ceil(BATCH_MS / time(work)));
  const [runsA, runsB] = [runsOf(a), runsOf(b)];
  const pairs = Array.from({ length: batches }, () => [processorTime(a, runsA), processorTime(b, runsB)]);
  const ratios = pairs.map(([ta = Number.NaN, tb = Number.NaN]) => ta / tb).sort((x, y) => x - y);
  return {
    what,
    ratio: median(ratios),
    spread: [ratios[ratios.length >> 2] ?? Number.NaN, ratios[(3 * ratios.length) >> 2] ?? Number.NaN],
    medianMs: median(pairs.map(([ta = Number.NaN]) => ta)),
    againstMs: median(pairs.map(([, tb = Number.NaN]) => tb)),
  };
}

/** Runs both in turn until enough time has passed, after a warm-up; ratios are formed pair by pair. */
export function ratioOf(what: string, a: () => unknown, b: () => unknown, least = 9): Row {
  for (let k = 0, start = performance.now(); k < 40 && performance.now() - start < 1500; k++) {
    a();
    b();
  }
  const ratios: number[] = [];
  const [timesA, timesB]: [number[], number[]] = [[], []];
  for (let k = 0, start = performance.now(); k < least || (k < 60 && performance.now() - start < 2000); k++) {
    const [ta, tb] = [time(a), time(b)];
    timesA.push(ta);
    timesB.push(tb);
    ratios.push(ta / tb);
  }
  const sorted = [...ratios].sort((x, y) => x - y);
  return {
    what,
    ratio: median(ratios),
    spread: [sorted[sorted.length >> 2] ?? Number.NaN, sorted[(3 * sorted.length) >> 2] ?? Number.NaN],
    medianMs: median(timesA),
    againstMs: median(timesB),
  };
}
