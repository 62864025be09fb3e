/**
 * A sheet of paper: svg.js on svgdom, the few kinds of element that the drawings need, and texts that are safe
 * and as wide as planned. One unit is a millimetre on the sheet; y points down.
 */
import { type Dom, Svg, withWindow } from '@svgdotjs/svg.js';
import { createSVGWindow } from 'svgdom';
import { mm } from './numbers.ts';
import { INK, PAPER } from './palette.ts';
import { clean, ems, FACES, MIDDLE_TO_BASE } from './text.ts';

/** A3, landscape, with the margin that a printer leaves white. */
export const SHEET = { width: 420, height: 297, margin: 9 } as const;

/** Something that elements can be put into. */
export type Pen = Dom;

/** Numbers are lengths on the sheet; what is left undefined is left out. */
export type Attributes = Readonly<Record<string, string | number | undefined>>;

const XLINK = 'http://www.w3.org/1999/xlink';

function dress<T extends Dom>(element: T, attributes: Attributes): T {
  for (const key in attributes) {
    const value = attributes[key];
    if (value !== undefined)
      element.node.setAttribute(key, typeof value === 'number' ? mm(value) : clean(value));
  }
  return element;
}

/** An element of any kind, put last. */
export const add = (pen: Pen, kind: string, attributes: Attributes): Dom =>
  dress(pen.element(kind), attributes);

/** A group by purpose; what is put into it inherits its attributes. */
export const group = (pen: Pen, attributes: Attributes): Pen => add(pen, 'g', attributes);

/** A shape of the `defs`, drawn once more. */
export const stamp = (pen: Pen, shape: string, attributes: Attributes): Dom =>
  dress(pen.element('use').attr('xlink:href', `#${shape}`, XLINK), attributes);

/** A group whose texts share one letter size. */
export interface Lettering {
  readonly pen: Pen;
  readonly size: number;
}

export const lettering = (pen: Pen, size: number, attributes: Attributes = {}): Lettering => ({
  pen: group(pen, { ...attributes, 'font-size': size, fill: attributes.fill ?? INK.text }),
  size,
});

export interface TextPlace {
  readonly anchor?: 'middle' | 'end';
  /** Read from below upward: turned by a right angle, counter-clockwise. */
  readonly upward?: boolean;
}

/** A text whose anchor is at (x, y), in the middle of its line's height; returns its width. */
export function write(
  { pen, size }: Lettering,
  x: number,
  y: number,
  text: string,
  place: TextPlace = {},
  attributes: Attributes = {},
): number {
  const shown = clean(text).replace(/^ +| +$| {2,}/g, (blanks) => '\u00a0'.repeat(blanks.length));
  const width = ems(shown) * size;
  const base = size * MIDDLE_TO_BASE;
  if (shown === '') return 0;
  const element = add(pen, 'text', {
    ...(place.upward ? { transform: `translate(${mm(x + base)} ${mm(y)}) rotate(-90)` } : { x, y: y + base }),
    'text-anchor': place.anchor,
    textLength: width,
    ...attributes,
  });
  element.words(shown);
  return width;
}

/** The parts of a sheet that every drawing has: where to put shapes that are used again, and where to draw. */
export interface Sheet {
  readonly defs: Pen;
  readonly page: Pen;
}

/**
 * Draws a sheet of A3 and returns the file's text. `about` is its title and description for those who cannot
 * see it; `name` becomes the root's id and class.
 */
export function drawSheet(
  name: string,
  about: { readonly title: string; readonly text: string },
  draw: (sheet: Sheet) => void,
): string {
  return withWindow(createSVGWindow(), () => {
    const root = new Svg();
    dress(root, {
      id: name,
      class: 'ringwright',
      width: `${SHEET.width}mm`,
      height: `${SHEET.height}mm`,
      viewBox: `0 0 ${SHEET.width} ${SHEET.height}`,
      role: 'img',
      'aria-labelledby': `${name}-title ${name}-about`,
      'font-family': FACES,
      direction: 'ltr',
    });
    add(root, 'title', { id: `${name}-title` }).words(clean(about.title));
    add(root, 'desc', { id: `${name}-about` }).words(clean(about.text));
    const defs = root.defs();
    add(root, 'rect', { class: 'paper', width: SHEET.width, height: SHEET.height, fill: PAPER });
    draw({ defs, page: root });
    return fileText(root.node.outerHTML);
  });
}

/**
 * Empty elements closed in their own tag, and a line for each. Angle brackets of texts and attributes are
 * escaped, so a literal one is markup.
 */
const fileText = (markup: string): string =>
  `<?xml version="1.0" encoding="UTF-8"?>\n${markup
    .replace(/<(use|path|rect|circle|g|defs)((?: [^<>]*)?)><\/\1>/g, '<$1$2/>')
    .replace(/(\/>|<\/(?:g|text|title|desc|defs|svg)>)/g, '$1\n')}`;
