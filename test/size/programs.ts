/** The proofs' questions as mixed-integer programs, for npm `highs`, and the rules of thumb that they are held beside. */
import { solveProgram } from '../figures/outside.ts';
import type { ModelFiller, ModelRules, ModelSide, Um } from './model.ts';

/** More of one filler in a gap than any proof's gap holds. */
const MOST = 400;

/** The lines of a program for one side: cells as variables s, fillers as whole counts y, of a length named `length`. */
function sideLines(
  name: string,
  side: ModelSide,
  fillers: readonly ModelFiller[],
  length: string,
): { lines: string[]; whole: string[] } {
  const { cells } = side;
  const lines: string[] = [];
  const whole: string[] = [];
  const y = (gap: number, f: number): string => `${name}y${gap}_${f}`;
  const filled = (gap: number, sign: '+' | '-'): string =>
    fillers.map((filler, f) => ` ${sign} ${filler.width} ${y(gap, f)}`).join('');
  for (let gap = 0; gap <= cells.length; gap++) {
    fillers.forEach((filler, f) => {
      whole.push(y(gap, f));
      if (filler.alone) return;
      const others = fillers.flatMap((other, k) => (other.alone ? [` - ${MOST} ${y(gap, k)}`] : []));
      lines.push(`${y(gap, f)}${others.join('')} <= 0`);
    });
  }
  cells.forEach((cell, i) => {
    const before = i === 0 ? '' : ` - ${name}s${i - 1}`;
    lines.push(
      `${name}s${i}${before}${filled(i, '-')} = ${i === 0 ? side.start : (cells[i - 1]?.width ?? 0)}`,
    );
    if (cell.gap > 0) lines.push(`${filled(i, '+')} >= ${cell.gap}`);
    if (cell.at !== null) lines.push(`${name}s${i} = ${cell.at}`);
    lines.push(`${name}s${i} >= ${side.low[i] ?? 0}`, `${length} - ${name}s${i} >= ${side.tail[i] ?? 0}`);
  });
  const last = cells.length - 1;
  lines.push(
    `${length} - ${name}s${last}${filled(cells.length, '-')} = ${(cells[last]?.width ?? 0) + side.end}`,
  );
  for (const { from, to, least } of side.apart) lines.push(`${name}s${to} - ${name}s${from} >= ${least}`);
  return { lines, whole };
}

/**
 * The least length that sides share, all filled legally, no longer than a length that is claimed to do; undefined where
 * there is none.
 */
export function leastCommonLength(
  sides: readonly ModelSide[],
  rules: ModelRules,
  claimed?: Um,
): Um | undefined {
  const parts = sides.map((side, k) => sideLines(`a${k}`, side, rules.fillers, 'L'));
  const whole = parts.flatMap((part) => part.whole);
  const lines = parts.flatMap((part) => part.lines).map((line, i) => ` c${i}: ${line}`);
  const solved = solveProgram(
    [
      'Minimize',
      ' obj: L',
      'Subject To',
      ...lines,
      'Bounds',
      ...(claimed === undefined ? [] : [` 0 <= L <= ${claimed}`]),
      ...whole.map((name) => ` 0 <= ${name} <= ${MOST}`),
      'Generals',
      ` ${whole.join(' ')}`,
      'End',
      '',
    ].join('\n'),
  );
  return solved === undefined ? undefined : Math.round(solved.objective);
}

/** The rule of thumb for a side: each cell at the first legal place. Undefined where it gets stuck. */
export function greedyPlaces(side: ModelSide, legal: readonly boolean[]): readonly Um[] | undefined {
  const places: Um[] = [];
  let end = side.start;
  for (const [i, cell] of side.cells.entries()) {
    let need = Math.max(end + cell.gap, side.low[i] ?? 0);
    for (const rule of side.apart)
      if (rule.to === i) need = Math.max(need, (places[rule.from] ?? 0) + rule.least);
    let at = cell.at ?? need;
    while (cell.at === null && legal[at - end] !== true && at - end < legal.length) at++;
    if (at < need || legal[at - end] !== true) return undefined;
    places.push(at);
    end = at + cell.width;
  }
  return places;
}

/** The length that the greedy places ask of a side, from some length on. */
export function greedyLength(side: ModelSide, legal: readonly boolean[], atLeast: Um): Um | undefined {
  const places = greedyPlaces(side, legal);
  const last = places?.at(-1);
  if (places === undefined || last === undefined) return undefined;
  const packed = last + (side.cells.at(-1)?.width ?? 0) + side.end;
  let length = Math.max(atLeast, packed, ...places.map((s, i) => s + (side.tail[i] ?? 0)));
  while (legal[length - packed] !== true && length - packed < legal.length) length++;
  return legal[length - packed] === true ? length : undefined;
}

/** The rule of thumb for two sides: both greedy, the shorter one filled up to the longer. */
export function greedyCommon(sides: readonly ModelSide[], legal: readonly boolean[]): Um | undefined {
  let length = 0;
  for (let again = true; again; ) {
    again = false;
    for (const side of sides) {
      const own = greedyLength(side, legal, length);
      if (own === undefined) return undefined;
      if (own > length) [length, again] = [own, true];
    }
  }
  return length;
}

/** The fewest fillers that fill a gap; undefined where none do. */
export function fewestFillers(gap: Um, fillers: readonly ModelFiller[]): number | undefined {
  const names = fillers.map((_, f) => `y${f}`);
  const sum = fillers.map((filler, f) => `${f === 0 ? '' : ' + '}${filler.width} y${f}`).join('');
  const alone = fillers.flatMap((filler, f) => (filler.alone ? [`y${f}`] : []));
  const solved = solveProgram(
    [
      'Minimize',
      ` obj: ${names.join(' + ')}`,
      'Subject To',
      ` fill: ${sum} = ${gap}`,
      ` ordinary: ${alone.join(' + ') || '0 y0'} >= 1`,
      'Generals',
      ` ${names.join(' ')}`,
      'End',
      '',
    ].join('\n'),
  );
  return solved === undefined ? undefined : Math.round(solved.objective);
}

/** The rule of thumb for a gap: the widest filler that still fits, again and again. Undefined where a rest stays. */
export function greedyFillers(gap: Um, fillers: readonly ModelFiller[]): number | undefined {
  const sorted = [...fillers].sort((a, b) => b.width - a.width);
  let [rest, count, ordinary] = [gap, 0, false];
  for (const { width, alone } of sorted) {
    const times = Math.floor(rest / width);
    rest -= times * width;
    count += times;
    if (times > 0 && alone) ordinary = true;
  }
  return rest === 0 && (ordinary || gap === 0) ? count : undefined;
}

/**
 * The least sum of squares of growths of the gaps before and behind some cells: whole growths that add up to a total,
 * the first so many of them at most each cap. A square is the sum of 1, 3, 5 and so on.
 */
export function leastSquares(total: number, caps: readonly number[]): number | undefined {
  const n = caps.length + 1;
  const names: string[] = [];
  const square: string[] = [];
  const grown = Array.from({ length: n }, (_, gap) => {
    const own = Array.from({ length: total }, (_unused, t) => `u${gap}_${t}`);
    for (const [t, name] of own.entries()) square.push(`${2 * t + 1} ${name}`);
    names.push(...own);
    return own.join(' + ');
  });
  const solved = solveProgram(
    [
      'Minimize',
      ` obj: ${square.join(' + ')}`,
      'Subject To',
      ` all: ${grown.join(' + ')} = ${total}`,
      ...caps.map((cap, i) => ` cap${i}: ${grown.slice(0, i + 1).join(' + ')} <= ${cap}`),
      'Binaries',
      ` ${names.join(' ')}`,
      'End',
      '',
    ].join('\n'),
  );
  return solved === undefined ? undefined : Math.round(solved.objective);
}

export const squaresOf = (total: number, shares: readonly number[]): number =>
  [...shares, total].reduce((sum, share, i) => sum + (share - (shares[i - 1] ?? 0)) ** 2, 0);

/** The rule of thumb for slack: equal shares, each held down by the caps that follow. */
export function greedyShares(total: number, caps: readonly number[]): readonly number[] {
  const shares: number[] = [];
  let ceiling = total;
  for (let i = caps.length - 1; i >= 0; i--) {
    ceiling = Math.min(ceiling, Math.floor((total * (i + 1)) / (caps.length + 1)), caps[i] ?? 0);
    shares[i] = ceiling;
  }
  return shares;
}
