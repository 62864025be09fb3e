/** SVG elements that are used again from one frame to the next: only what changed is written. */
import { svg } from './dom.ts';

export interface Pool<T extends SVGElement> {
  /** As many elements as there are items, each dressed by its item. */
  readonly draw: <I>(items: readonly I[], dress: (element: T, item: I) => void) => void;
}

export function poolOf<K extends keyof SVGElementTagNameMap>(
  home: SVGElement,
  tag: K,
): Pool<SVGElementTagNameMap[K]> {
  const elements: SVGElementTagNameMap[K][] = [];
  let shown = 0;
  return {
    draw(items, dress) {
      for (const [i, item] of items.entries()) {
        let element = elements[i];
        if (element === undefined) {
          element = svg(tag);
          elements.push(element);
          home.append(element);
        }
        if (i >= shown) element.removeAttribute('display');
        dress(element, item);
      }
      for (const element of elements.slice(items.length, shown)) element.setAttribute('display', 'none');
      shown = items.length;
    },
  };
}

/** Sets an attribute where it is another. */
export function set(element: Element, name: string, value: string): void {
  if (element.getAttribute(name) !== value) element.setAttribute(name, value);
}

export function setText(element: Element, text: string): void {
  if (element.textContent !== text) element.textContent = text;
}

/** Pixels, to a tenth. */
export const px = (value: number): string => String(Math.round(value * 10) / 10);
