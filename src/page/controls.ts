/** The buttons below the drawing, the parts that are shown, and what the keys do. */
import type { Core } from './core.ts';
import { el, part } from './dom.ts';
import { measureFrom } from './ends.ts';
import { listenToKeys } from './keys.ts';
import { sectionOf } from './model.ts';
import { PARTS } from './parts.ts';
import { same, type Thing } from './thing.ts';

export function wireControls(core: Core, box: HTMLElement): void {
  const { view, state, change, light, say } = core;
  const press = (id: string, act: () => void): void =>
    part(id, HTMLButtonElement).addEventListener('click', act);
  press('in', () => view.zoom(1.5));
  press('out', () => view.zoom(1 / 1.5));
  press('whole', view.whole);
  press('back', view.back);
  press('unlight', () => light(undefined));
  press('measure', () => {
    const measures = !state().measures;
    change({ measures, snap: undefined, start: undefined });
    if (measures) core.tabs.open('measure');
    say(measures ? 'point at two edges or centres' : 'measuring is off');
  });
  for (const [name, label] of PARTS) {
    const check = el('input', { type: 'checkbox', id: `part-${name}` });
    check.checked = true;
    check.addEventListener('change', () => change({ shown: { ...state().shown, [name]: check.checked } }));
    part('parts', HTMLElement).append(el('label', { for: `part-${name}` }, check, ` ${label}`));
  }
  listenToKeys(box, {
    pan: view.pan,
    zoom: (factor) => view.zoom(factor),
    whole: view.whole,
    back: view.back,
    nextPad: (step) => nextPad(core, step),
    nextFinding: () => nextFinding(core),
    zoomToChosen: () => withChosen(core, core.show),
    lightNet: () => withChosen(core, (thing) => lightOf(core, thing, 'net')),
    lightSection: () => withChosen(core, (thing) => lightOf(core, thing, 'section')),
    measureChosen: () => withChosen(core, (thing) => measureFrom(core, thing)),
    letGo: () => letGo(core),
  });
}

function withChosen({ state, say }: Core, act: (thing: Thing) => void): void {
  const { chosen } = state();
  if (chosen === undefined) say('choose something first: N chooses the first pad');
  else act(chosen);
}

function nextPad({ loaded, state, choose }: Core, step: 1 | -1): void {
  const numbers = [...(loaded()?.model.pads.keys() ?? [])].sort((a, b) => a - b);
  const { chosen } = state();
  const at = chosen?.kind === 'pad' ? numbers.indexOf(chosen.number) : step === 1 ? -1 : 0;
  const number = numbers.at((at + step) % numbers.length);
  if (number !== undefined) choose({ kind: 'pad', number }, 'reveal');
}

function nextFinding({ loaded, state, choose, say }: Core): void {
  const count = loaded()?.model.findings.length ?? 0;
  const { chosen } = state();
  const at = chosen?.kind === 'finding' ? chosen.number : 0;
  if (count === 0) say('there are no findings');
  else choose({ kind: 'finding', number: (at % count) + 1 }, 'show');
}

/** Lights the net or section that a pad or cell belongs to, or puts it out again. */
function lightOf({ loaded, state, light, say }: Core, thing: Thing, kind: 'net' | 'section'): void {
  const model = loaded()?.model;
  if (model === undefined) return;
  const pad = thing.kind === 'pad' ? model.pads.get(thing.number) : undefined;
  const section = thing.kind === 'cell' ? model.cells.get(thing.name)?.section : pad && sectionOf(model, pad);
  const name = kind === 'net' ? pad?.net : section;
  if (name == null) say(`what is chosen has no ${kind}`);
  else light(same(state().lit, { kind, name }) ? undefined : { kind, name });
}

function letGo({ state, change, light }: Core): void {
  const { start, measures, lit } = state();
  if (start !== undefined) change({ start: undefined, snap: undefined });
  else if (measures) change({ measures: false, snap: undefined });
  else if (lit !== undefined) light(undefined);
  else change({ chosen: undefined });
}
