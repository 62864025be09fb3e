/** The names inside the ring: each section's beside its bar, the core's extents in its middle. */
import { LINE } from './fan.ts';
import { centreOf, type Dot, type Frame, lies, type Side, toScreen } from './geometry.ts';
import type { Model } from './model.ts';
import { exact, um } from './numbers.ts';
import { type Extent, isTaken, isWithin, type Rect, rectAround } from './screen.ts';

/** Half the width of bold letters over the width of plain ones. */
const BOLD = 0.6;

/** A name inside the ring, by its middle. */
export interface InnerName extends Dot {
  readonly text: string;
  readonly kind: 'section' | 'core';
  readonly upward: boolean;
}

interface Run {
  readonly side: Side;
  readonly section: string;
  readonly low: number;
  readonly high: number;
  /** The inner edge of its deepest cell, on its axis of the die. */
  readonly inner: number;
}

/** Neighbouring cells of one section on one side. */
function runsOf({ placement }: Model): readonly Run[] {
  const runs: Run[] = [];
  for (const cell of placement.cells) {
    const { side, section } = cell;
    if (side === null || section === null) continue;
    const flat = lies(side);
    const [low, high] = flat ? [cell.x, cell.x + cell.width] : [cell.y, cell.y + cell.height];
    const inner = { left: cell.x + cell.width, right: cell.x, bottom: cell.y + cell.height, top: cell.y }[
      side
    ];
    const last = runs.at(-1);
    if (last?.side === side && last.section === section) {
      const deeper =
        side === 'left' || side === 'bottom' ? Math.max(last.inner, inner) : Math.min(last.inner, inner);
      runs[runs.length - 1] = {
        ...last,
        low: Math.min(last.low, low),
        high: Math.max(last.high, high),
        inner: deeper,
      };
    } else runs.push({ side, section, low, high, inner });
  }
  return runs;
}

const runsKnown = new WeakMap<Model, readonly Run[]>();

/** Section names beside their bars, in the middle of what is in sight of each run. */
function sectionNames(
  model: Model,
  frame: Frame,
  size: Extent,
  measureText: (text: string) => number,
  bars: number,
): readonly InnerName[] {
  const runs = runsKnown.get(model) ?? runsOf(model);
  runsKnown.set(model, runs);
  return runs.flatMap(({ side, section, low, high, inner }): readonly InnerName[] => {
    const flat = lies(side);
    const a = toScreen(frame, flat ? { x: low, y: inner } : { x: inner, y: high });
    const b = toScreen(frame, flat ? { x: high, y: inner } : { x: inner, y: low });
    const [from, to] = flat ? [a.x, b.x] : [a.y, b.y];
    const [start, end] = [Math.max(from, 0), Math.min(to, flat ? size.width : size.height)];
    if (end - start < measureText(section) + LINE) return [];
    const inward = frame.k * bars + 9;
    const away = side === 'left' || side === 'top' ? inward : -inward;
    const middle = (start + end) / 2;
    return flat
      ? [{ text: section, kind: 'section', upward: false, x: middle, y: a.y + away }]
      : [{ text: section, kind: 'section', upward: true, x: a.x + away, y: middle }];
  });
}

/** The core's extents in its middle, where they fit. */
function coreName(
  { placement: { core } }: Model,
  frame: Frame,
  measureText: (text: string) => number,
): readonly InnerName[] {
  const text = `core ${exact(core.width)} × ${um(core.height)}`;
  if (core.width * frame.k < measureText(text) + 8 * LINE || core.height * frame.k < 6 * LINE) return [];
  return [{ text, kind: 'core', upward: false, ...toScreen(frame, centreOf(core)) }];
}

export interface InnerSetting {
  readonly frame: Frame;
  readonly box: Extent;
  /** Pixels that a text takes. */
  readonly measure: (text: string) => number;
  /** How far the sections' bars reach inward from the cells, in micrometres. */
  readonly bars: number;
}

/** Those of the names that are whole in sight and clear of each other and of what is taken. */
export function innerNames(
  model: Model,
  { frame, box, measure, bars }: InnerSetting,
  parts: { readonly core: boolean; readonly sections: boolean },
  occupied: readonly Rect[],
): readonly InnerName[] {
  const taken = [...occupied];
  const all = [
    ...(parts.core ? coreName(model, frame, measure) : []),
    ...(parts.sections ? sectionNames(model, frame, box, measure, bars) : []),
  ];
  return all.filter(({ x, y, text, upward }) => {
    const [long, high] = [measure(text) * BOLD, LINE / 2];
    const rect = upward ? rectAround(x, y, high, long) : rectAround(x, y, long, high);
    const ends = [
      { x: rect.x0, y: rect.y0 },
      { x: rect.x1, y: rect.y1 },
    ];
    if (!ends.every((end) => isWithin(end, box, 0)) || isTaken(rect, taken)) return false;
    taken.push(rect);
    return true;
  });
}
