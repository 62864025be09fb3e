/** Elements made from text that stays text: nothing of a name is ever read as markup. */

export type Attributes = Readonly<Record<string, string | number | boolean | undefined>>;
export type Child = Node | string | undefined;

function dress<T extends Element>(element: T, attributes: Attributes, children: readonly Child[]): T {
  for (const [name, value] of Object.entries(attributes))
    if (value !== undefined && value !== false)
      element.setAttribute(name, value === true ? '' : String(value));
  for (const child of children) if (child !== undefined) element.append(child);
  return element;
}

export const el = <K extends keyof HTMLElementTagNameMap>(
  tag: K,
  attributes: Attributes = {},
  ...children: readonly Child[]
): HTMLElementTagNameMap[K] => dress(document.createElement(tag), attributes, children);

const SVG = 'http://www.w3.org/2000/svg';

export const svg = <K extends keyof SVGElementTagNameMap>(
  tag: K,
  attributes: Attributes = {},
  ...children: readonly Child[]
): SVGElementTagNameMap[K] => dress(document.createElementNS(SVG, tag), attributes, children);

/** An element of the page's own frame; its absence is a fault of the page. */
export function part<T extends Element>(id: string, kind: abstract new () => T): T {
  const element = document.getElementById(id);
  if (!(element instanceof kind)) throw new Error(`the page lacks #${id}`);
  return element;
}

export function button(label: Child, act: () => void, attributes: Attributes = {}): HTMLButtonElement {
  const made = el('button', { type: 'button', ...attributes }, label);
  made.addEventListener('click', act);
  return made;
}

/** Where the pointer is within an element's border, in pixels. */
export function inBox(
  box: HTMLElement,
  { clientX, clientY }: MouseEvent,
): { readonly x: number; readonly y: number } {
  const { left, top } = box.getBoundingClientRect();
  return { x: clientX - left - box.clientLeft, y: clientY - top - box.clientTop };
}
