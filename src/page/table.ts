/** A list of things as a table: each row's first cell is a button; arrow keys go from row to row. */
import { el } from './dom.ts';
import { keyOf, type Thing } from './thing.ts';

export interface Row {
  readonly thing: Thing;
  readonly cells: readonly (string | Node)[];
}

export interface Columns {
  readonly caption: string;
  readonly heads: readonly string[];
  /** Which columns hold numbers, and which may go where there is little room. */
  readonly numbers?: readonly number[];
  readonly spare?: readonly number[];
}

/** Longer texts break anywhere. */
const LONG = 20;

export type Choose = (thing: Thing) => void;

export function thingTable(
  { caption, heads, numbers = [], spare = [] }: Columns,
  rows: readonly Row[],
  choose: Choose,
): HTMLElement {
  const classOf = (i: number, cell?: string | Node): string | undefined =>
    [
      numbers.includes(i) ? 'number' : '',
      spare.includes(i) ? 'spare' : '',
      typeof cell !== 'string' || cell.length > LONG ? 'long' : '',
    ]
      .filter((name) => name !== '')
      .join(' ') || undefined;
  const body = el('tbody');
  const head = el('tr', {}, ...heads.map((text, i) => el('th', { scope: 'col', class: classOf(i) }, text)));
  for (const [r, { thing, cells }] of rows.entries()) {
    const row = el('tr', { 'data-key': keyOf(thing) });
    for (const [i, cell] of cells.entries())
      row.append(
        i === 0
          ? el(
              'th',
              { scope: 'row', class: classOf(i) },
              el('button', { type: 'button', tabindex: r === 0 ? 0 : -1 }, cell),
            )
          : el('td', { class: classOf(i, cell) }, cell),
      );
    body.append(row);
  }
  body.addEventListener('click', (event) => {
    const at = indexOf(body, event.target);
    const row = rows[at];
    if (row === undefined) return;
    reach(body, at, false);
    choose(row.thing);
  });
  body.addEventListener('keydown', (event) => {
    const at = indexOf(body, event.target);
    const to = {
      ArrowDown: at + 1,
      ArrowUp: at - 1,
      Home: 0,
      End: rows.length - 1,
      PageDown: at + 10,
      PageUp: at - 10,
    }[event.key];
    if (at < 0 || to === undefined) return;
    event.preventDefault();
    reach(body, Math.max(0, Math.min(rows.length - 1, to)), true);
  });
  return el('table', { class: 'things' }, el('caption', {}, caption), el('thead', {}, head), body);
}

function indexOf(body: HTMLElement, target: EventTarget | null): number {
  const row = target instanceof Element ? target.closest('tr') : null;
  return row === null ? -1 : [...body.children].indexOf(row);
}

/** Makes a row's button the one that the tab key reaches. */
function reach(body: HTMLElement, at: number, focus: boolean): void {
  for (const other of body.querySelectorAll('button[tabindex="0"]')) other.setAttribute('tabindex', '-1');
  const button = body.children[at]?.querySelector('button');
  if (!button) return;
  button.tabIndex = 0;
  if (focus) button.focus();
}

/** Marks the chosen thing's rows below an element, and brings the first of them into sight where a list scrolls by itself. */
export function markChosen(home: Element, thing: Thing | undefined): void {
  for (const row of home.querySelectorAll('tr[aria-current]')) row.removeAttribute('aria-current');
  if (thing === undefined) return;
  const rows = home.querySelectorAll(`tr[data-key="${CSS.escape(keyOf(thing))}"]`);
  for (const row of rows) row.setAttribute('aria-current', 'true');
  const [first] = rows;
  const list = first?.closest('.panels');
  if (!first || !list || getComputedStyle(list).overflowY !== 'auto') return;
  const [row, box] = [first.getBoundingClientRect(), list.getBoundingClientRect()];
  // The table's head stays on top of it.
  const head = first.closest('table')?.tHead?.offsetHeight ?? 0;
  if (row.height > 0 && row.top < box.top + head) list.scrollTop -= box.top + head - row.top;
  else if (row.bottom > box.bottom) list.scrollTop += row.bottom - box.bottom;
}
