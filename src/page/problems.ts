/** What the live view has to say of files that give no ring, over the last one that did. */
import { el, part } from './dom.ts';
import { counted } from './numbers.ts';
import type { Complaint, Payload } from './payload.ts';

export function showProblems({ problems, notes, ring }: Payload): void {
  const home = part('problems', HTMLElement);
  home.hidden = problems.length === 0 && notes.length === 0;
  home.classList.toggle('broken', problems.length > 0);
  home.replaceChildren(
    ...(problems.length === 0
      ? []
      : [
          el(
            'h2',
            {},
            `${counted(problems.length, 'problem')}: ${ring === null ? 'no ring to show yet' : 'below is the last ring that could be laid'}`,
          ),
          listOf(problems),
        ]),
    ...(notes.length === 0
      ? []
      : [el('details', {}, el('summary', {}, counted(notes.length, 'note')), listOf(notes))]),
  );
}

const listOf = (complaints: readonly Complaint[]): HTMLElement => el('ul', {}, ...complaints.map(itemOf));

function itemOf({ message, mend, place, code }: Complaint): HTMLElement {
  return el(
    'li',
    {},
    place === undefined ? undefined : el('code', {}, `${place.file}:${place.line}:${place.column}`),
    ` ${message} `,
    el('small', {}, code),
    mend === undefined ? undefined : el('div', { class: 'mend' }, mend),
  );
}
