/** The drawing itself: taken over from `ring.svg`, parts hidden, one net, section or arc lit along the ring. */
import { svg } from './dom.ts';
import type { Box } from './geometry.ts';
import { type Model, railOf, railsOfNet } from './model.ts';
import { PARTS, type Shown } from './parts.ts';
import type { Thing } from './thing.ts';
import type { Base } from './view.ts';

export interface Scene {
  readonly base: Base;
  /** How far the sections' bars reach inward from the cells, in micrometres. */
  readonly bars: number;
  readonly show: (shown: Shown) => void;
  readonly light: (thing: Thing | undefined) => void;
}

/** From the cells to a section bar's inner edge, in millimetres of the sheet, as `ring.svg` draws it. */
const SECTION_BAR = 2.3;

const LAYERS = ['cells', 'rails', 'stems', 'pads', 'marks'] as const;

/** `ring` holds the drawing's elements, by the ids and attributes that `ring.svg` documents. */
export function sceneOf(ring: SVGGElement, model: Model): Scene {
  const die = ring.querySelector<SVGGElement>('#ring-die');
  if (die === null) throw new Error('the drawing lacks its die');
  const veil = svg('rect', {
    class: 'veil',
    width: model.placement.die.width,
    height: model.placement.die.height,
    display: 'none',
  });
  const lit = svg('g', { class: 'lit' });
  die.append(veil, lit);
  const children = new Map<string, readonly SVGElement[]>(
    LAYERS.map((name) => [
      name,
      [...(die.querySelector<SVGGElement>(`#ring-${name}`)?.children ?? [])].filter(
        (child) => child instanceof SVGElement,
      ),
    ]),
  );

  const base = baseOf(die);
  return {
    base,
    bars: SECTION_BAR / base.scale,
    show(shown) {
      for (const [part] of PARTS) ring.classList.toggle(`without-${part}`, !shown[part]);
    },
    light(thing) {
      lit.replaceChildren();
      if (thing === undefined) return veil.setAttribute('display', 'none');
      veil.removeAttribute('display');
      lit.append(...litParts(model, thing, children));
    },
  };
}

function baseOf(die: SVGGElement): Base {
  const matrix = die.transform.baseVal.consolidate()?.matrix;
  if (matrix === undefined) throw new Error('the drawing has no scale');
  return { scale: matrix.a, x: matrix.e, y: matrix.f };
}

interface Lit {
  readonly pads: ReadonlySet<number>;
  readonly cells: ReadonlySet<string>;
  readonly rails: ReadonlySet<number>;
  /** Rails are lit within these cells only. */
  readonly within: readonly Box[] | undefined;
}

/** What belongs to a thing along the whole ring. */
export function belonging(model: Model, thing: Thing): Lit {
  const { placement } = model;
  switch (thing.kind) {
    case 'net': {
      const pads = model.padsOfNet.get(thing.name) ?? [];
      const rails = railsOfNet(model, thing.name);
      const feeds = rails.flatMap((at) => railOf(model, at)?.supplies ?? []);
      return {
        pads: new Set(pads.map(({ number }) => number)),
        cells: new Set([...pads.map(({ cell }) => cell), ...feeds]),
        rails: new Set(rails),
        within: undefined,
      };
    }
    case 'rail': {
      const rail = railOf(model, thing.at);
      const cells = new Set(rail?.supplies ?? []);
      const pads = placement.bondPads.filter((pad) => pad.net === rail?.net && cells.has(pad.cell));
      return {
        pads: new Set(pads.map(({ number }) => number)),
        cells,
        rails: new Set([thing.at]),
        within: undefined,
      };
    }
    case 'section': {
      const own = placement.cells.filter((cell) => cell.section === thing.name);
      const cells = new Set(own.map(({ name }) => name));
      return {
        pads: new Set(placement.bondPads.filter((pad) => cells.has(pad.cell)).map(({ number }) => number)),
        cells,
        rails: new Set(placement.rails.keys()),
        within: own,
      };
    }
    case 'cell':
      return {
        pads: new Set((model.padsOfCell.get(thing.name) ?? []).map(({ number }) => number)),
        cells: new Set([thing.name]),
        rails: new Set(),
        within: undefined,
      };
    case 'pad':
      return {
        pads: new Set([thing.number]),
        cells: new Set(
          placement.bondPads.filter(({ number }) => number === thing.number).map(({ cell }) => cell),
        ),
        rails: new Set(),
        within: undefined,
      };
    case 'finding':
      return { pads: new Set(), cells: new Set(), rails: new Set(), within: undefined };
  }
}

/** Copies of what is lit, to stand above the veil in the drawing's own order. */
function litParts(
  model: Model,
  thing: Thing,
  children: ReadonlyMap<string, readonly SVGElement[]>,
): readonly SVGElement[] {
  const lit = belonging(model, thing);
  const holds = (element: SVGElement): boolean => {
    const { cell, pad, arc } = element.dataset;
    if (arc !== undefined) return lit.rails.has(Number(arc) - 1);
    return pad !== undefined ? lit.pads.has(Number(pad)) : cell !== undefined && lit.cells.has(cell);
  };
  const groups = LAYERS.map((name) => {
    const own = (children.get(name) ?? []).filter(holds).map((child) => child.cloneNode(true));
    const group = svg('g', { class: name });
    if (name === 'stems') copyFill(group, children.get(name)?.[0]);
    group.append(...own);
    if (name === 'rails' && lit.within !== undefined) group.setAttribute('clip-path', 'url(#lit-clip)');
    return group;
  });
  if (lit.within === undefined) return groups;
  const clip = svg('clipPath', { id: 'lit-clip' });
  const outline = ({ x, y, width, height }: Box): string => `M${x} ${y}h${width}v${height}h${-width}z`;
  clip.append(svg('path', { d: lit.within.map(outline).join('') }));
  return [clip, ...groups];
}

/** Stems take their colour from their group. */
function copyFill(group: SVGGElement, sample: SVGElement | undefined): void {
  const fill = sample?.parentElement?.getAttribute('fill');
  if (fill) group.setAttribute('fill', fill);
}
