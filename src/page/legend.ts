/** What the drawing's colours and marks stand for: samples are pieces of the drawing itself. */
import type { PlacedCell } from '../format/placement.ts';
import { el, svg } from './dom.ts';
import { type Box, boxAround } from './geometry.ts';
import type { Model } from './model.ts';

interface Item {
  readonly text: string;
  readonly sample: SVGSVGElement;
}

const WIDTH = 34;
const HEIGHT = 18;

export function legendOf({ placement, kinds }: Model, ring: SVGGElement): HTMLElement {
  const items: Item[] = [];
  const seen = new Set<string>();
  const copies = (kind: string, value: string): readonly SVGElement[] =>
    [
      ...ring.querySelectorAll<SVGElement>(
        `#ring-cells > [data-${kind}="${CSS.escape(value)}"], #ring-marks > [data-${kind}="${CSS.escape(value)}"]`,
      ),
    ].map((element) => element.cloneNode(true) as SVGElement);
  for (const cell of placement.cells) {
    if (seen.has(cell.role)) continue;
    seen.add(cell.role);
    items.push({ text: `${cell.role} cell`, sample: ofDie(endOf(cell), copies('cell', cell.name)) });
  }
  for (const pad of placement.bondPads) {
    const kind = kinds.get(pad.net) ?? 'signal';
    if (seen.has(`pad ${kind}`)) continue;
    seen.add(`pad ${kind}`);
    const shape = ring.querySelector(`#ring-pads > [data-pad="${pad.number}"]`)?.cloneNode(true);
    if (shape instanceof SVGElement)
      items.push({ text: `pad, ${kind} net`, sample: ofDie(boxAround(pad, pad), [shape]) });
  }
  for (const [at, rail] of placement.rails.entries()) {
    if (seen.has(`lane ${rail.lane}`)) continue;
    seen.add(`lane ${rail.lane}`);
    const line = ring.querySelector(`#ring-rails > [data-arc="${at + 1}"] > path[stroke]`);
    if (line !== null) items.push({ text: `lane ${rail.lane}`, sample: ofLine(line, 2) });
  }
  for (const { name } of placement.sections) {
    const bar = [...ring.querySelectorAll<SVGElement>('#ring-sections > path')].find(
      (path) => path.dataset.section === name,
    );
    if (bar !== undefined) items.push({ text: `section ${name}`, sample: ofLine(bar, 5) });
  }
  return el(
    'ul',
    { class: 'legend-list' },
    ...items.map(({ text, sample }) => el('li', {}, sample, ' ', text)),
  );
}

const picture = (viewBox: string, ...children: readonly SVGElement[]): SVGSVGElement =>
  svg(
    'svg',
    { width: WIDTH, height: HEIGHT, viewBox, 'aria-hidden': 'true', class: 'ringwright sample' },
    ...children,
  );

/** A piece of the die, upright. */
function ofDie({ x, y, width, height }: Box, shapes: readonly SVGElement[]): SVGSVGElement {
  const piece = svg('g', { transform: `translate(0 ${2 * y + height}) scale(1 -1)` }, ...shapes);
  return picture(`${x} ${y} ${width} ${height}`, piece);
}

/** The piece of a cell at its inward end, where its mark stands, in the proportions of a sample. */
function endOf({ side, x, y, width, height }: PlacedCell): Box {
  const scale = Math.min(width / WIDTH, height / HEIGHT);
  const [w, h] = [scale * WIDTH, scale * HEIGHT];
  const middle = { x: x + (width - w) / 2, y: y + (height - h) / 2, width: w, height: h };
  switch (side) {
    case 'left':
      return { ...middle, x: x + width - w };
    case 'bottom':
      return { ...middle, y: y + height - h };
    case 'right':
      return { ...middle, x };
    case 'top':
      return { ...middle, y };
    case null:
      return middle;
  }
}

/** A line of the drawing's colour and dashes. */
function ofLine(line: Element, width: number): SVGSVGElement {
  const own = Number(line.getAttribute('stroke-width')) || 1;
  const dashes = (line.getAttribute('stroke-dasharray') ?? '')
    .split(/[ ,]+/)
    .filter((part) => part !== '')
    .map((part) => (Number(part) * width) / own)
    .join(' ');
  const sample = svg('path', {
    d: `M0 ${HEIGHT / 2}H${WIDTH}`,
    stroke: line.getAttribute('stroke') ?? '#000000',
    'stroke-width': width,
    'stroke-dasharray': dashes || undefined,
    fill: 'none',
  });
  return picture(`0 0 ${WIDTH} ${HEIGHT}`, sample);
}
