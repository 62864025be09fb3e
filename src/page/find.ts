/** The search box: a list of what fits opens below it; arrow keys and Enter choose. */
import { el, part } from './dom.ts';
import { type Hit, type Index, search } from './match.ts';
import type { Choose } from './table.ts';

const MOST = 40;

export interface Find {
  readonly setIndex: (index: Index) => void;
  readonly focus: () => void;
}

export function findOf(choose: Choose): Find {
  const input = part('find', HTMLInputElement);
  const list = part('found', HTMLElement);
  const said = part('found-count', HTMLElement);
  let index: Index = [];
  let hits: readonly Hit[] = [];
  let at = 0;

  const close = (): void => {
    list.hidden = true;
    input.setAttribute('aria-expanded', 'false');
    input.removeAttribute('aria-activedescendant');
  };

  const mark = (): void => {
    for (const [i, option] of [...list.children].entries()) {
      option.setAttribute('aria-selected', String(i === at));
      if (i === at) option.scrollIntoView({ block: 'nearest' });
    }
    input.setAttribute('aria-activedescendant', `found-${at}`);
  };

  const open = (): void => {
    const all = search(index, input.value);
    hits = all.slice(0, MOST);
    at = 0;
    const more = all.length - hits.length;
    said.textContent =
      input.value.trim() === ''
        ? ''
        : all.length === 0
          ? 'nothing found'
          : `${all.length} found${more > 0 ? `, ${MOST} shown` : ''}`;
    list.replaceChildren(
      ...hits.map(({ name, about }, i) =>
        el(
          'li',
          { id: `found-${i}`, role: 'option', 'aria-selected': 'false' },
          el('span', {}, name),
          ' ',
          el('small', {}, about),
        ),
      ),
    );
    if (hits.length === 0) {
      close();
      return;
    }
    list.hidden = false;
    input.setAttribute('aria-expanded', 'true');
    mark();
  };

  const take = (hit: Hit | undefined): void => {
    if (hit === undefined) return;
    close();
    choose(hit.thing);
  };

  input.addEventListener('input', open);
  input.addEventListener('focus', () => {
    if (input.value !== '') open();
  });
  input.addEventListener('blur', close);
  input.addEventListener('keydown', (event) => {
    if (event.key === 'ArrowDown' || event.key === 'ArrowUp') {
      event.preventDefault();
      if (list.hidden) return open();
      at = (at + (event.key === 'ArrowDown' ? 1 : hits.length - 1)) % hits.length;
      mark();
    } else if (event.key === 'Enter') {
      event.preventDefault();
      if (list.hidden) open();
      take(hits[at]);
    } else if (event.key === 'Escape') close();
  });
  // Before the box loses the focus, which closes the list.
  list.addEventListener('pointerdown', (event) => event.preventDefault());
  list.addEventListener('click', (event) => {
    const option = event.target instanceof Element ? event.target.closest('li') : null;
    if (option !== null) take(hits[[...list.children].indexOf(option)]);
  });

  return {
    setIndex(next) {
      index = next;
      close();
    },
    focus: () => input.focus(),
  };
}
