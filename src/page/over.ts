/** What is drawn over the ring at the same size at every zoom: names, section names, findings, frames, measures. */
import { svg } from './dom.ts';
import { LINE } from './fan.ts';
import { type Box, centreOf, type Dot, lies, type Side } from './geometry.ts';
import { type Label, labelsOf } from './labels.ts';
import { boxOf, type Model } from './model.ts';
import { exact, um } from './numbers.ts';
import type { Shown } from './parts.ts';
import { poolOf, px, set, setText } from './pool.ts';
import type { Measured, Snap } from './snap.ts';
import type { Thing } from './thing.ts';
import type { Frame } from './view.ts';

export interface OverState {
  readonly model: Model;
  readonly shown: Shown;
  readonly chosen: Thing | undefined;
  readonly hovered: Thing | undefined;
  readonly first: ReadonlySet<number>;
  readonly snap: Snap | undefined;
  readonly start: Snap | undefined;
  readonly measured: readonly Measured[];
  /** How far the sections' bars reach inward from the cells, in micrometres. */
  readonly bars: number;
}

export interface Over {
  readonly draw: (
    state: OverState,
    frame: Frame,
    size: { readonly width: number; readonly height: number },
  ) => void;
}

/** A finding's mark: the findings whose places fall together at this zoom. */
export interface FindingMark extends Dot {
  readonly numbers: readonly number[];
  readonly error: boolean;
}

export const MARK = 9;

export const toScreen = ({ k, left, top }: Frame, { x, y }: Dot): Dot => ({
  x: left + k * x,
  y: top - k * y,
});

export function findingMarks(model: Model, frame: Frame): readonly FindingMark[] {
  const marks: { x: number; y: number; numbers: number[]; error: boolean }[] = [];
  for (const { number, finding } of model.findings) {
    if (finding.x === undefined || finding.y === undefined) continue;
    const at = toScreen(frame, { x: finding.x, y: finding.y });
    const error = finding.severity === 'error' && finding.waived === undefined;
    const near = marks.find((mark) => Math.hypot(mark.x - at.x, mark.y - at.y) < 2 * MARK + 2);
    if (near === undefined) marks.push({ ...at, numbers: [number], error });
    else {
      near.numbers.push(number);
      near.error ||= error;
    }
  }
  return marks;
}

export function overOf(home: SVGSVGElement, measureText: (text: string) => number): Over {
  const layer = (name: string): SVGGElement => {
    const group = svg('g', { class: name });
    home.append(group);
    return group;
  };
  const leaders = poolOf(layer('over-leaders'), 'path');
  const sections = poolOf(layer('over-sections'), 'text');
  const names = poolOf(layer('over-names'), 'text');
  const frames = poolOf(layer('over-frames'), 'rect');
  const lines = poolOf(layer('over-measures'), 'path');
  const spots = poolOf(layer('over-spots'), 'path');
  const findings = layer('over-findings');
  const circles = poolOf(findings, 'circle');
  const numbers = poolOf(findings, 'text');
  const texts = poolOf(layer('over-values'), 'text');

  return {
    draw({ model, shown, chosen, hovered, first, snap, start, measured, bars }, frame, { width, height }) {
      const labels = shown.names
        ? labelsOf(model, { frame, width, height, measure: measureText, first })
        : [];
      leaders.draw(labels.length === 0 ? [] : [labels], (path, all) =>
        set(path, 'd', all.map(leader).join('')),
      );
      names.draw(labels, (text, label) => {
        set(
          text,
          'transform',
          `translate(${px(label.x)} ${px(label.y)})${label.upward ? 'rotate(-90)' : ''}`,
        );
        set(text, 'text-anchor', label.anchor);
        set(text, 'data-pad', String(label.pad.number));
        set(text, 'class', first.has(label.pad.number) ? 'first' : '');
        setText(text, label.text);
      });
      const runs = [
        ...(shown.sections ? sectionNames(model, frame, { width, height }, measureText, bars) : []),
        ...(shown.core ? coreName(model, frame, measureText) : []),
      ];
      sections.draw(runs, (text, run) => {
        set(text, 'transform', `translate(${px(run.x)} ${px(run.y)})${run.upward ? 'rotate(-90)' : ''}`);
        setText(text, run.text);
        set(text, 'class', run.kind);
      });
      const marks = shown.findings ? findingMarks(model, frame) : [];
      circles.draw(marks, (circle, { x, y, error, numbers: list }) => {
        set(circle, 'cx', px(x));
        set(circle, 'cy', px(y));
        set(circle, 'r', String(MARK));
        set(circle, 'class', error ? 'error' : '');
        set(circle, 'data-finding', String(list[0]));
      });
      numbers.draw(marks, (text, { x, y, numbers: list }) => {
        set(text, 'x', px(x));
        set(text, 'y', px(y));
        setText(text, list.length > 1 ? `${list[0]}+` : String(list[0]));
      });
      const boxes = [hovered, chosen].flatMap((thing, i) => {
        const box = thing && isFramed(thing) ? boxOf(model, thing) : undefined;
        return box === undefined ? [] : [{ box, chosen: i === 1 }];
      });
      frames.draw(boxes, (rect, one) => frameAround(rect, frame, one.box, one.chosen ? 'chosen' : 'hovered'));
      drawMeasures(frame, measured, [start, snap]);
    },
  };

  function drawMeasures(
    frame: Frame,
    measured: readonly Measured[],
    ends: readonly (Snap | undefined)[],
  ): void {
    const shapes = measured.map((one) => dimension(one, frame));
    lines.draw(shapes, (path, { d }) => set(path, 'd', d));
    const values = shapes.flatMap(({ values: own }) => own);
    texts.draw(values, (text, { x, y, value }) => {
      set(text, 'x', px(x));
      set(text, 'y', px(y));
      setText(text, value);
    });
    spots.draw(
      ends.flatMap((end) => end ?? []),
      (path, end) => set(path, 'd', spotMark(end, frame)),
    );
  }
}

/** What is one shape has a frame; what runs along the ring is lit instead. */
const isFramed = ({ kind }: Thing): boolean => kind === 'pad' || kind === 'cell' || kind === 'finding';

const leader = ({ leader: line }: Label): string =>
  line === undefined ? '' : `M${px(line[0])} ${px(line[1])}L${px(line[2])} ${px(line[3])}`;

function frameAround(rect: SVGRectElement, frame: Frame, box: Box, name: string): void {
  const { x, y } = toScreen(frame, { x: box.x, y: box.y + box.height });
  // Around a mere place, it goes around its mark.
  const away = box.width === 0 ? MARK + 4 : 3;
  set(rect, 'class', name);
  set(rect, 'x', px(x - away));
  set(rect, 'y', px(y - away));
  set(rect, 'width', px(box.width * frame.k + 2 * away));
  set(rect, 'height', px(box.height * frame.k + 2 * away));
}

/** A cross at a centre, a line along an edge. */
function spotMark({ from, to, spot }: Snap, frame: Frame): string {
  const [a, b] = [toScreen(frame, from), toScreen(frame, to)];
  if (spot !== 'centre') return `M${px(a.x)} ${px(a.y)}L${px(b.x)} ${px(b.y)}`;
  return `M${px(a.x - 8)} ${px(a.y)}h16M${px(a.x)} ${px(a.y - 8)}v16`;
}

interface Value extends Dot {
  readonly value: string;
}

/** The lines and values of a measure: along x and along y, each at the far end of the other. */
function dimension(
  { from, to, dx, dy }: Measured,
  frame: Frame,
): { readonly d: string; readonly values: readonly Value[] } {
  const [a, b] = [anchorOf(from, to), anchorOf(to, from)];
  const [p, q] = [toScreen(frame, a), toScreen(frame, b)];
  let d = '';
  const values: Value[] = [];
  if (dx !== undefined && (dx > 0 || dy === undefined)) {
    d += `M${px(p.x)} ${px(p.y - 5)}v10M${px(p.x)} ${px(p.y)}H${px(q.x)}m0 -5v10`;
    values.push({ x: (p.x + q.x) / 2, y: p.y - 9, value: String(exact(dx)) });
  }
  if (dy !== undefined && (dy > 0 || dx === undefined)) {
    const x = dx === undefined ? p.x : q.x;
    d += `M${px(x - 5)} ${px(p.y)}h10M${px(x)} ${px(p.y)}V${px(q.y)}m-5 0h10`;
    values.push({ x: x + 8 + String(exact(dy)).length * 3.5, y: (p.y + q.y) / 2, value: String(exact(dy)) });
  }
  return { d, values };
}

/** Where a dimension line starts: an edge gives way to the other end, where that lies beside it. */
function anchorOf(end: Snap, other: Snap): Dot {
  const middle = (one: Snap): Dot => ({ x: (one.from.x + one.to.x) / 2, y: (one.from.y + one.to.y) / 2 });
  const [own, far] = [middle(end), middle(other)];
  const within = (value: number, low: number, high: number): number => Math.max(low, Math.min(high, value));
  return {
    x: end.x ?? within(far.x, Math.min(end.from.x, end.to.x), Math.max(end.from.x, end.to.x)),
    y:
      end.y ??
      (end.x === undefined
        ? own.y
        : within(far.y, Math.min(end.from.y, end.to.y), Math.max(end.from.y, end.to.y))),
  };
}

interface InnerName extends Dot {
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
  size: { readonly width: number; readonly height: number },
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
