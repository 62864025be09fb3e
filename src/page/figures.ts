/** The figures of the ring, each with how it came about. */
import { el } from './dom.ts';
import type { Model } from './model.ts';
import { counted, exact, figureText, um } from './numbers.ts';
import { type Figure, type FigureGroup, type FigureRow, figuresOf } from './walk.ts';

export function figureList(model: Model): HTMLElement {
  return el('div', { class: 'figures' }, ringFigures(model), ...figuresOf(model.placement).map(groupOf));
}

/** What the summary says without a formula. */
function ringFigures({ placement }: Model): HTMLElement {
  const { die, core, sides, summary, rules } = placement;
  const by = { pads: 'set by the pads', core: 'set by the core', given: 'as given' } as const;
  const facts: readonly (readonly [string, string])[] = [
    [
      'die',
      `${exact(die.width)} × ${um(die.height)}${rules.shrink === 1 ? '' : `, drawn; silicon is ${rules.shrink} of it`}`,
    ],
    ['width', by[summary.limits.width]],
    ['height', by[summary.limits.height]],
    ['core', `${exact(core.width)} × ${um(core.height)}`],
    ...sides.map(({ side, style, bondPads, length, filled }) => {
      const pitch = summary.pitches.find((one) => one.side === side);
      const pitches =
        pitch?.least == null || pitch.greatest === null
          ? ''
          : `, pitch ${pitch.least === pitch.greatest ? '' : `${exact(pitch.least)} to `}${um(pitch.greatest)}`;
      return [
        `${side} side`,
        `${counted(bondPads, 'pad')}, ${style}${pitches}; fillers ${exact(filled)} of ${um(length)}`,
      ] as const;
    }),
  ];
  return el(
    'section',
    {},
    el('h2', {}, 'Die and sides'),
    el('dl', {}, ...facts.map(([name, value]) => el('div', {}, el('dt', {}, name), el('dd', {}, value)))),
    el('p', { class: 'none' }, 'A pitch here is from one pad to the next along the side, of whichever row.'),
  );
}

/** A group is named by where it stands and by the first that is said of it: `supplies: VDD`. */
function groupOf({ title, about: [first, ...about], rows }: FigureGroup): HTMLElement {
  return el(
    'section',
    {},
    el('h2', {}, first === undefined ? title : `${title}: ${first[1]}`),
    about.length === 0
      ? undefined
      : el('p', { class: 'about' }, about.map(([name, value]) => `${name} ${value}`).join('; ')),
    el('ul', {}, ...rows.map(rowOf)),
  );
}

function rowOf({ what, figure, limit }: FigureRow): HTMLElement {
  const head = [el('span', { class: 'what' }, what), ' ', el('strong', {}, valueText(figure))];
  const against = limit === undefined ? [] : [` against ${valueText(limit)}`];
  if ('notAssessed' in figure)
    return el('li', { class: 'missing' }, ...head, `: ${figure.notAssessed}`, ...against);
  return el(
    'li',
    {},
    el(
      'details',
      {},
      el('summary', {}, ...head, ...against),
      ...workingOf(figure),
      ...(limit === undefined ? [] : limitOf(limit)),
    ),
  );
}

const valueText = (figure: Figure): string =>
  'notAssessed' in figure ? 'not assessed' : figureText(figure.value, figure.unit);

function workingOf(figure: Figure): readonly HTMLElement[] {
  if ('notAssessed' in figure) return [el('p', {}, figure.notAssessed)];
  return [
    el('p', { class: 'formula' }, `= ${figure.formula}`),
    ...(figure.inputs.length === 0
      ? []
      : [
          el(
            'ul',
            { class: 'inputs' },
            ...figure.inputs.map(({ name, value, unit }) =>
              el('li', {}, `${name} = ${figureText(value, unit)}`),
            ),
          ),
        ]),
    el('p', { class: 'source' }, figure.source),
  ];
}

const limitOf = (limit: Figure): readonly HTMLElement[] => [el('p', {}, 'The limit:'), ...workingOf(limit)];
