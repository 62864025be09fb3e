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
