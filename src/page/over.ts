/** What is drawn over the ring at the same size at every zoom: names, section names, findings, frames, measures. */

import { dimension } from './dimension.ts';
import { svg } from './dom.ts';
import { type Box, type Dot, type Frame, toScreen } from './geometry.ts';
import { innerNames } from './inner.ts';
import { type Label, labelsOf } from './labels.ts';
import { boxOf, type Model } from './model.ts';
import type { Shown } from './parts.ts';
import { poolOf, px, set, setText } from './pool.ts';
import { type Extent, isWithin, rectAround } from './screen.ts';
import type { Measured, Snap } from './snap.ts';
import type { Thing } from './thing.ts';

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
  readonly draw: (state: OverState, frame: Frame, size: Extent) => void;
}

/** A finding's mark: the findings whose places fall together at this zoom. */
export interface FindingMark extends Dot {
  readonly numbers: readonly number[];
  readonly error: boolean;
}

export const MARK = 9;

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
      const box = { width, height };
      const marks = shown.findings
        ? findingMarks(model, frame).filter((mark) => isWithin(mark, box, MARK))
        : [];
      const taken = marks.map(({ x, y }) => rectAround(x, y, MARK, MARK));
      const labels = shown.names
        ? labelsOf(model, { frame, width, height, measure: measureText, first }, taken)
        : [];
      taken.push(...labels.map(({ rect }) => rect));
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
      const inner = innerNames(model, { frame, box, measure: measureText, bars }, shown, taken);
      sections.draw(inner, (text, run) => {
        set(text, 'transform', `translate(${px(run.x)} ${px(run.y)})${run.upward ? 'rotate(-90)' : ''}`);
        setText(text, run.text);
        set(text, 'class', run.kind);
      });
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
