/** What is under the pointer, in a few words. */
import { el } from './dom.ts';
import { findingOf, type Model, nameOf } from './model.ts';
import { exact, um } from './numbers.ts';
import type { Thing } from './thing.ts';

/** The uppermost thing in full and the names of those below it. */
export function hintOf(model: Model, things: readonly Thing[]): readonly HTMLElement[] {
  const [first, ...rest] = things;
  if (first === undefined) return [];
  return [
    el('strong', {}, nameOf(model, first)),
    el('span', {}, aboutOf(model, first)),
    ...rest.map((thing) => el('small', {}, nameOf(model, thing))),
  ];
}

function aboutOf(model: Model, thing: Thing): string {
  switch (thing.kind) {
    case 'pad': {
      const pad = model.pads.get(thing.number);
      if (pad === undefined) return '';
      return `net ${pad.net}, centre ${exact(pad.x)}, ${um(pad.y)}`;
    }
    case 'cell': {
      const cell = model.cells.get(thing.name);
      return cell === undefined ? '' : `${cell.role}, footprint ${cell.footprint}`;
    }
    case 'finding':
      return findingOf(model, thing.number)?.message ?? '';
    default:
      return '';
  }
}
