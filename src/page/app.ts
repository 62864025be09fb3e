/** The page put together: every change of its state goes through `change`, which draws anew what depends on it. */
import type { Placement } from '../format/placement.ts';
import { cardOf } from './card.ts';
import { wireControls } from './controls.ts';
import { type Core, type Loaded, type Move, START, type State } from './core.ts';
import { part } from './dom.ts';
import { measuredAnew, measureFrom, takeMeasured } from './ends.ts';
import { roomOf } from './fan.ts';
import { figureList } from './figures.ts';
import { findOf } from './find.ts';
import { type Box, toScreen } from './geometry.ts';
import { showHead } from './head.ts';
import { followPointer } from './hover.ts';
import { legendOf } from './legend.ts';
import { findingList, padList, railList, supplyList } from './lists.ts';
import { indexOf } from './match.ts';
import { measuringOf } from './measuring.ts';
import { boxOf, carried, modelOf, nameOf } from './model.ts';
import { overOf } from './over.ts';
import { belonging, sceneOf } from './scene.ts';
import { shapesOf } from './snap.ts';
import { markChosen } from './table.ts';
import { tabsOf } from './tabs.ts';
import { same, type Thing } from './thing.ts';
import { viewOf } from './view.ts';
import { widthsOf } from './widths.ts';

export interface App {
  /** Takes a placement whose drawing already stands in the page; what was chosen and lit stays where it still is. */
  readonly setRing: (placement: Placement) => void;
}

export function startApp(): App {
  const box = part('view', HTMLElement);
  const ring = part('ring', SVGGElement);
  const over = part('over', SVGSVGElement);
  const cardHome = part('card', HTMLElement);
  const widths = widthsOf(over);
  const overlay = overOf(over, widths);
  const view = viewOf(box, part('world', SVGGElement), draw);
  const tabs = tabsOf((panel) => markChosen(panel, state.chosen));
  const find = findOf((thing) => choose(thing, 'show'));
  let loaded: Loaded | undefined;
  let state = START;
  const core: Core = {
    view,
    tabs,
    loaded: () => loaded,
    state: () => state,
    change,
    choose,
    light,
    show,
    say,
  };
  placeCard(cardHome);
  followPointer(core, box);
  wireControls(core, box);

  function draw(): void {
    part('back', HTMLButtonElement).disabled = !view.canGoBack();
    if (loaded === undefined) return;
    const { model, scene } = loaded;
    const first = new Set(state.lit === undefined ? [] : belonging(model, state.lit).pads);
    if (state.chosen?.kind === 'pad') first.add(state.chosen.number);
    overlay.draw({ ...state, model, first, bars: scene.bars }, view.frame(), view.size());
  }

  function change(next: Partial<State>): void {
    const before = state;
    state = { ...state, ...next };
    if (loaded === undefined) return;
    const lit = !same(state.lit, before.lit);
    const chosen = !same(state.chosen, before.chosen);
    if (state.shown !== before.shown) loaded.scene.show(state.shown);
    if (lit) loaded.scene.light(state.lit);
    if (state.measured !== before.measured) loaded.measuring.update(state.measured);
    if (chosen) markChosen(part('lists', HTMLElement), state.chosen);
    if (chosen || lit) showCard();
    part('unlight', HTMLButtonElement).disabled = state.lit === undefined;
    part('measure', HTMLButtonElement).setAttribute('aria-pressed', String(state.measures));
    box.classList.toggle('measures', state.measures);
    draw();
  }

  function say(text: string): void {
    part('said', HTMLElement).textContent = text;
  }

  function showCard(): void {
    const { chosen, lit } = state;
    // What had the focus inside goes; the card itself then takes it.
    const focused = cardHome.contains(document.activeElement);
    cardHome.hidden = chosen === undefined;
    const acts = {
      choose: (thing: Thing) => choose(thing, 'show'),
      light,
      lit,
      measureFrom: (thing: Thing) => measureFrom(core, thing),
      close: () => change({ chosen: undefined }),
    };
    cardHome.replaceChildren(
      ...(chosen === undefined || loaded === undefined ? [] : [cardOf(loaded.model, chosen, acts)]),
    );
    if (focused) (chosen === undefined ? box : cardHome).focus({ preventScroll: true });
  }

  /** Chooses a thing; nets, sections and arcs are lit along the ring as well. */
  function choose(thing: Thing, move: Move): void {
    if (loaded === undefined) return;
    const { model } = loaded;
    const lights = thing.kind === 'net' || thing.kind === 'section' || thing.kind === 'rail';
    change({ chosen: thing, ...(lights ? { lit: thing } : {}) });
    const target = boxOf(model, thing);
    if (target !== undefined && (move === 'show' || (move === 'reveal' && !inSight(target)))) show(thing);
    say(`${nameOf(model, thing)} chosen${target === undefined ? '; it has no place in the drawing' : ''}`);
  }

  function light(thing: Thing | undefined): void {
    change({ lit: thing });
    if (loaded !== undefined) say(thing === undefined ? 'nothing lit' : `${nameOf(loaded.model, thing)} lit`);
  }

  /** A pad with its neighbours around it, a stretch of the ring as it is, what is all around it as a whole. */
  function show(thing: Thing): void {
    const target = loaded && boxOf(loaded.model, thing);
    if (loaded === undefined || target === undefined) return;
    const { bondPads, die } = loaded.model.placement;
    const usual = Math.max(1, ...bondPads.slice(0, 40).map((pad) => Math.max(pad.width, pad.height)));
    const spot = thing.kind === 'pad' || thing.kind === 'finding' || thing.kind === 'cell';
    if (target.width > die.width / 2 || target.height > die.height / 2) view.whole();
    else view.show(target, spot ? usual * 7 : usual);
    // Where the page is one column, the drawing may be out of sight.
    box.scrollIntoView({ block: 'nearest' });
  }

  function inSight(target: Box): boolean {
    const { width, height } = view.size();
    const { x, y } = toScreen(view.frame(), target);
    return view.frame().k * target.width > 6 && x > 20 && x < width - 20 && y > 20 && y < height - 20;
  }

  return {
    setRing(placement) {
      const [before, model] = [loaded, modelOf(placement)];
      const shapes = shapesOf(model);
      const scene = sceneOf(ring, model);
      const measuring = measuringOf(
        shapes,
        (measured) => takeMeasured(core, measured),
        () => change({ measured: [], start: undefined }),
      );
      const { shown, chosen, lit } = state;
      const carry = (thing: Thing | undefined): Thing | undefined =>
        before && thing && carried(thing, before.model, model);
      loaded = { model, scene, shapes, measuring };
      state = { ...START, shown, measures: state.measures, measured: measuredAnew(state.measured, shapes) };
      showHead(model);
      find.setIndex(indexOf(model));
      const choosing = (thing: Thing): void => choose(thing, 'show');
      tabs.setContents({
        pads: () => padList(model, choosing),
        supplies: () => supplyList(model, choosing),
        rails: () => railList(model, choosing),
        findings: () => findingList(model, choosing),
        figures: () => figureList(model),
        measure: () => measuring.element,
      });
      tabs.count('pads', placement.bondPads.length);
      tabs.count('supplies', placement.nets.filter(({ kind }) => kind !== 'signal').length);
      tabs.count('rails', placement.rails.length);
      tabs.count('findings', placement.findings.length);
      part('legend', HTMLElement).replaceChildren(legendOf(model, ring));
      measuring.update(state.measured);
      scene.show(shown);
      view.setBase(scene.base, placement.die, (size) => roomOf(model, widths, size));
      change({ chosen: carry(chosen), lit: carry(lit) });
      showCard();
    },
  };
}

/** The card stands below the lists beside the drawing, and between drawing and lists where all is one column. */
function placeCard(card: HTMLElement): void {
  const lists = part('lists', HTMLElement);
  const wide = matchMedia('(min-width: 60rem) and (min-height: 34rem)');
  const place = (): void => {
    if (wide.matches) lists.append(card);
    else lists.prepend(card);
  };
  wide.addEventListener('change', place);
  place();
}
