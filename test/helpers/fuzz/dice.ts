/** Repeatable choices: the same seed and words give the same input on every machine. */

export interface Dice {
  /** A whole number from 0 up to but not including `n`. */
  readonly below: (n: number) => number;
  readonly of: <T>(list: readonly [T, ...T[]] | readonly T[]) => T | undefined;
  /** One of a list, each as often as its share says. */
  readonly shared: <T>(list: readonly T[], share: (one: T) => number) => T | undefined;
  /** True once in `n` times. */
  readonly once: (n: number) => boolean;
}

/** The generator mulberry32 (public domain, from memory), seeded by a hash of what it is for; any would do. */
export function diceFrom(...words: readonly (string | number)[]): Dice {
  let state = 0x9e3779b9;
  for (const sign of words.join(' ')) state = Math.imul(state ^ (sign.codePointAt(0) ?? 0), 0x01000193) >>> 0;
  const next = (): number => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), state | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32;
  };
  const below = (n: number): number => Math.floor(next() * n);
  const shared = <T>(list: readonly T[], share: (one: T) => number): T | undefined => {
    let at = below(list.reduce((sum, one) => sum + share(one), 0));
    for (const one of list) {
      at -= share(one);
      if (at < 0) return one;
    }
    return undefined;
  };
  return { below, of: (list) => list[below(list.length)], shared, once: (n) => below(n) === 0 };
}
