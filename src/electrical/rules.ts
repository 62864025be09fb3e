/** The rules that the electrical figures are held to, by which severities and waivers name them. */

export interface ElectricalRule {
  readonly name: string;
  readonly severity: 'error' | 'warning' | 'note';
  readonly protects: string;
  readonly mend: string;
}

/** A rule's complaint, in the form in which the judge takes those of all stations. */
export interface ElectricalHit {
  readonly message: string;
  readonly items: readonly string[];
  /** Where to look, in picometres. */
  readonly at?: { readonly x: number; readonly y: number };
}

const rule = (
  name: string,
  severity: ElectricalRule['severity'],
  protects: string,
  mend: string,
): ElectricalRule => ({ name, severity, protects, mend });

export const ELECTRICAL = {
  count: rule(
    'supply-count',
    'error',
    'That each net has the supply cells that its current, its wires, its noise and its discharge ask for.',
    'Add supply cells, or let `supplies: auto` add them.',
  ),
  noise: rule(
    'switching-noise',
    'error',
    'That outputs which switch together do not lift their ground or pull down their supply beyond the budget.',
    'Add supply cells, set them further apart, shorten wires, or slow the outputs down.',
  ),
  drop: rule(
    'rail-drop',
    'error',
    'That every cell gets its supply voltage within the budget.',
    'Add a supply cell where the drop is, or feed the core by strips.',
  ),
  density: rule(
    'rail-current',
    'error',
    'That no rail carries more current than its metal stands for years.',
    'Spread the supply cells, or add one where the current is.',
  ),
  supply: rule(
    'supply-current',
    'error',
    'That no supply cell and none of its wires carries more than it may.',
    'Add supply cells near the one that carries too much.',
  ),
  stem: rule(
    'stem-current',
    'error',
    'That no stem carries more current than its metal stands for years.',
    'Widen the stems, draw them on more layers, or add supply cells.',
  ),
  path: rule(
    'discharge-path',
    'error',
    'That a discharge between any two pads finds a path that is meant for it.',
    'Add a clamp between the supply and its ground, or a break cell with diodes between the grounds.',
  ),
  discharge: rule(
    'discharge-drop',
    'error',
    'That a discharge leaves the circuits at the pads within the voltage that they survive.',
    'Add a clamp near the pads named, or a supply cell that holds one.',
  ),
  strip: rule(
    'core-strip',
    'error',
    'That the strips between ring and core carry their current and have room.',
    'Widen the strip or leave its width out, or give the core more clearance.',
  ),
} as const;

/** All electrical rules in the order in which their findings are listed. */
export const electricalRules: readonly ElectricalRule[] = Object.values(ELECTRICAL);
