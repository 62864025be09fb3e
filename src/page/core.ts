/** The page's state, and the few ways to change it that everything on the page shares. */
import type { Measuring } from './measuring.ts';
import type { Model } from './model.ts';
import { ALL_SHOWN, type Shown } from './parts.ts';
import type { Scene } from './scene.ts';
import type { Measured, Shape, Snap } from './snap.ts';
import type { Tabs } from './tabs.ts';
import type { Thing } from './thing.ts';
import type { View } from './view.ts';

/** What depends on one ring. */
export interface Loaded {
  readonly model: Model;
  readonly scene: Scene;
  readonly shapes: readonly Shape[];
  readonly measuring: Measuring;
}

export interface State {
  readonly chosen: Thing | undefined;
  readonly lit: Thing | undefined;
  readonly hovered: Thing | undefined;
  readonly shown: Shown;
  /** Whether the pointer measures. */
  readonly measures: boolean;
  /** What the pointer would measure from, and what it has been told to. */
  readonly snap: Snap | undefined;
  readonly start: Snap | undefined;
  readonly measured: readonly Measured[];
}

export const START: State = {
  chosen: undefined,
  lit: undefined,
  hovered: undefined,
  shown: ALL_SHOWN,
  measures: false,
  snap: undefined,
  start: undefined,
  measured: [],
};

/** Whether the drawing goes to what is chosen: always, only where it is out of sight, or never. */
export type Move = 'show' | 'reveal' | 'stay';

export interface Core {
  readonly view: View;
  readonly tabs: Tabs;
  readonly loaded: () => Loaded | undefined;
  readonly state: () => State;
  readonly change: (next: Partial<State>) => void;
  readonly choose: (thing: Thing, move: Move) => void;
  readonly light: (thing: Thing | undefined) => void;
  /** Zooms to a thing, if it has a place. */
  readonly show: (thing: Thing) => void;
  /** Says something in the line below the drawing, which readers of the screen read out. */
  readonly say: (text: string) => void;
}
