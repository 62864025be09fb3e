/** The measure as a form: both ends by name and spot, the distances below. The pointer fills the same two ends. */
import { button, el } from './dom.ts';
import { exact, um } from './numbers.ts';
import {
  type Measured,
  measure,
  type Shape,
  type Snap,
  SPOTS,
  type Spot,
  shapeNamed,
  snapAt,
  snapName,
} from './snap.ts';

/** The distances of a measure in words; for two pads of a side, as pitch or stagger. */
export function measuredText({ dx, dy, pads }: Measured): string {
  if (pads !== undefined)
    return `${pads.word} ${um(pads.along)} along the ${pads.side} side, ${um(pads.across)} across it`;
  if (dx !== undefined && dy !== undefined)
    return `x ${um(dx)}, y ${um(dy)}, straight ${um(exact(Math.hypot(dx, dy)))}`;
  if (dx !== undefined) return `x ${um(dx)}`;
  if (dy !== undefined) return `y ${um(dy)}`;
  return 'no distance: the two edges are at a right angle';
}

export interface Measuring {
  readonly element: HTMLElement;
  readonly setFrom: (snap: Snap) => void;
  readonly update: (measured: readonly Measured[]) => void;
}

export function measuringOf(
  shapes: readonly Shape[],
  found: (measured: Measured) => void,
  clear: () => void,
): Measuring {
  const names = [...new Set(shapes.map(({ name }) => name))];
  const options = el('datalist', { id: 'shapes' }, ...names.map((name) => el('option', { value: name })));
  const from = endOf('From', 'from');
  const to = endOf('To', 'to');
  const wrong = el('p', { class: 'wrong', role: 'alert' });
  const results = el('ol', { class: 'results' });
  const form = el(
    'form',
    {},
    from.element,
    to.element,
    el('p', { class: 'acts' }, el('button', { type: 'submit' }, 'Measure'), button('Clear all', clear)),
    wrong,
  );
  form.addEventListener('submit', (event) => {
    event.preventDefault();
    const [a, b] = [from.snap(shapes), to.snap(shapes)];
    const missing = [
      a === undefined ? from.typed() : undefined,
      b === undefined ? to.typed() : undefined,
    ].flatMap((name) => name ?? []);
    wrong.textContent =
      missing.length === 0
        ? ''
        : `There is nothing named ${missing.map((name) => `"${name}"`).join(' or ')}: choose from the list.`;
    if (a !== undefined && b !== undefined) found(measure(a, b));
  });
  return {
    element: el(
      'div',
      { class: 'measuring' },
      el(
        'p',
        {},
        'With “Measure” switched on below the drawing, point at two edges or centres. Or name both ends here.',
      ),
      options,
      form,
      el('h2', {}, 'Distances'),
      results,
    ),
    setFrom: (snap) => from.set(snap),
    update(measured) {
      results.replaceChildren(
        ...measured.map((one) =>
          el(
            'li',
            {},
            el('strong', {}, measuredText(one)),
            el('br'),
            `from the ${snapName(one.from)} to the ${snapName(one.to)}`,
          ),
        ),
      );
      const last = measured.at(-1);
      if (last === undefined) return;
      from.set(last.from);
      to.set(last.to);
    },
  };
}

interface End {
  readonly element: HTMLElement;
  readonly snap: (shapes: readonly Shape[]) => Snap | undefined;
  readonly typed: () => string;
  readonly set: (snap: Snap) => void;
}

function endOf(label: string, id: string): End {
  const name = el('input', { id: `measure-${id}`, list: 'shapes', autocomplete: 'off' });
  const spot = el(
    'select',
    { id: `measure-${id}-spot`, 'aria-label': `${label}, which edge` },
    ...SPOTS.map((one) => el('option', {}, one)),
  );
  return {
    element: el('p', { class: 'end' }, el('label', { for: `measure-${id}` }, label), ' ', spot, ' of ', name),
    snap: (shapes) => {
      const shape = shapeNamed(shapes, name.value.trim());
      const chosen = SPOTS.find((one): one is Spot => one === spot.value);
      return shape && chosen && snapAt(shape, chosen);
    },
    typed: () => name.value,
    set: (snap) => {
      name.value = snap.shape.name;
      spot.value = snap.spot;
    },
  };
}
