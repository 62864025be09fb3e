/**
 * Every key of the cell file changes what is read: a key that could change nothing would be a promise not kept.
 * Source of the values: our own; the list of keys comes from the published JSON Schema, so that none is left out.
 */

import { describe, expect, it } from 'vitest';
import { stringify } from 'yaml';
import { cellFileJsonSchema } from '../../src/library/cell-file.ts';
import { type Files, macro, readCells, sound } from './small.ts';

const lef: Files = {
  'io.lef':
    macro(
      'sig',
      'PAD INOUT',
      [50, 100],
      [
        { pin: 'pad', use: 'SIGNAL', rects: [[10, 10, 40, 30]] },
        { pin: 'tap', use: 'SIGNAL', rects: [[10, 0, 20, 3]] },
        { pin: 'A', use: 'SIGNAL', direction: 'INPUT', rects: [[5, 99, 6, 100]] },
        { pin: 'VDD', rects: [[0, 50, 50, 60]] },
        {
          pin: 'VDD',
          layer: 'M5',
          rects: [
            [0, 50, 3, 60],
            [47, 50, 50, 60],
          ],
        },
        {
          pin: 'VSS',
          use: 'GROUND',
          layer: 'M5',
          rects: [
            [0, 70, 3, 80],
            [47, 70, 50, 80],
          ],
        },
      ],
    ) +
    macro(
      'sup',
      'PAD POWER',
      [50, 100],
      [
        {
          pin: 'VDD',
          rects: [
            [0, 50, 2, 60],
            [48, 50, 50, 60],
            [10, 0, 40, 3],
            [10, 98, 40, 100],
          ],
        },
        {
          pin: 'VSS',
          use: 'GROUND',
          rects: [
            [0, 70, 2, 80],
            [48, 70, 50, 80],
          ],
        },
      ],
    ) +
    macro(
      'fill',
      'PAD SPACER',
      [10, 100],
      [
        { pin: 'VDD', rects: [[0, 50, 10, 60]] },
        { pin: 'VSS', use: 'GROUND', rects: [[0, 70, 10, 80]] },
      ],
    ) +
    macro(
      'cor',
      'PAD SPACER',
      [100, 100],
      [
        {
          pin: 'VDD',
          rects: [
            [98, 50, 100, 60],
            [50, 98, 60, 100],
          ],
        },
      ],
    ),
  'other.lef': macro('more', 'PAD SPACER', [5, 100], [{ pin: 'VDD', rects: [[0, 50, 5, 60]] }]),
};

const hand = { width: 40, height: 120 };
const base = {
  name: 'base',
  lef: ['io.lef'],
  drawn: { outward: 'bottom', stubs: 'joined', turns: { plain: [0, 90, 180, 270], mirrored: [0] } },
  lanes: {
    VDD: { pins: ['VDD'], strips: { M4: [[50, 60], { from: 62, to: 66, edges: 'both', carry: 'through' }] } },
    VSS: { strips: { M4: [[70, 80]] } },
  },
  padPins: ['pad'],
  insidePad: { along: 40, deep: 40, opening: { along: 30, deep: 30 } },
  padOnTop: true,
  layers: { M4: { sheetResistance: 0.05, currentLimits: [{ celsius: 85, perMicrometre: 2 }] } },
  drives: { supply: 'VDD', ground: 'VSS' },
  clampDrop: { threshold: 1.5, resistance: 1 },
  padDiode: { threshold: 0.8, resistance: 0.5 },
  breakDiode: { threshold: 0.7, resistance: 0.4 },
  cells: {
    sig: { role: 'signal' } as object,
    out: {
      ...hand,
      role: 'signal',
      landings: [{ name: 'p', at: 20 }],
      drives: { supply: 'VDD', ground: 'VSS', slope: 20 },
      padDiode: { threshold: 0.9, resistance: 0.6 },
    },
    clamping: {
      ...hand,
      role: 'clamp',
      clamps: [{ supply: 'VDD', ground: 'VSS' }],
      clampDrop: { threshold: 2, resistance: 2 },
    },
    another: { ...hand, role: 'break', cuts: ['VSS'], diodes: ['VSS'] },
    parting: {
      ...hand,
      role: 'break',
      cuts: ['VSS'],
      diodes: ['VSS'],
      breakDiode: { threshold: 0.6, resistance: 0.3 },
    },
    fill: { standsAlone: true },
    cor: { role: 'corner' },
    own: {
      ...hand,
      role: 'supply',
      outward: 'bottom',
      setback: 1,
      landings: [
        {
          name: 'p',
          at: 20,
          feeds: ['VDD'],
          inside: { t: 30, along: 30, deep: 30, opening: { along: 20, deep: 20 } },
        },
      ],
      lanes: { VDD: { M4: [{ from: 40, to: 60, edges: 'both', carry: 'through' }] } },
      clamps: [{ supply: 'VDD', ground: 'VSS' }],
      padOnTop: false,
      turns: { plain: [0, 90, 180, 270], mirrored: [0] },
      perSection: { least: 1, most: 2 },
      needs: ['boot'],
      signals: [{ name: 'Y', direction: 'output' }],
      straps: [{ lane: 'VDD', layer: 'M4', at: 20, width: 10, t: 120 }],
      rating: 50,
    },
    plain: {
      ...hand,
      role: 'supply',
      landings: [{ name: 'p', at: 20, feeds: ['VDD'], inside: { t: 30 } }],
      onVertical: 'own',
    },
    boot: { ...hand, role: 'control', cuts: [{ lane: 'VDD', layer: 'M4' }] },
    lacking: { ...hand, role: 'control', lacks: ['VSS'] },
    tied: { ...hand, role: 'clamp', ties: [['VDD', 'VSS']] },
    part: { ...hand, role: 'break', cuts: ['VSS'], diodes: ['VSS'] },
    turned: { width: 90, height: 100, role: 'corner', follows: 'left' },
  },
};
/** The drawing's literal M5 stubs of sig, joined by the cell file. */
const joined = structuredClone(base);
joined.lef = ['io.lef'];
joined.lanes.VDD.pins = ['VDD'];
joined.cells.sig = { role: 'signal', joins: [{ lane: 'VDD', layer: 'M5' }] };

type Change = readonly [path: string, value: unknown];
const GONE = Symbol('gone');

/** Each key, and a change of it: a path and its new value. */
const changes: Readonly<Record<string, Change>> = {
  name: ['name', 'x'],
  lef: ['lef', ['io.lef', 'other.lef']],
  drawn: ['drawn', { outward: 'bottom' }],
  'drawn.outward': ['drawn.outward', 'top'],
  'drawn.stubs': ['drawn.stubs', 'cut'],
  'drawn.turns': ['drawn.turns', GONE],
  'drawn.turns.plain': ['drawn.turns.plain', [0]],
  'drawn.turns.mirrored': ['drawn.turns.mirrored', [90]],
  lanes: ['lanes', { VDD: base.lanes.VDD, VSS: { strips: { M4: [[71, 80]] } } }],
  'lanes.*.pins': ['lanes.VDD.pins', ['VDD', 'tap']],
  'lanes.*.strips': ['lanes.VDD.strips', { M4: [[51, 60]] }],
  'lanes.*.strips.*[].from': ['lanes.VDD.strips.M4.1.from', 63],
  'lanes.*.strips.*[].to': ['lanes.VDD.strips.M4.1.to', 65],
  'lanes.*.strips.*[].edges': ['lanes.VDD.strips.M4.1', { from: 62, to: 66, edges: 'start' }],
  'lanes.*.strips.*[].carry': ['lanes.VDD.strips.M4.1.carry', 'cut'],
  padPins: ['padPins', ['tap']],
  insidePad: ['insidePad', { along: 41, deep: 40, opening: { along: 30, deep: 30 } }],
  'insidePad.along': ['insidePad.along', 42],
  'insidePad.deep': ['insidePad.deep', 38],
  'insidePad.opening': ['insidePad.opening', { along: 31, deep: 31 }],
  'insidePad.opening.along': ['insidePad.opening.along', 31],
  'insidePad.opening.deep': ['insidePad.opening.deep', 31],
  padOnTop: ['padOnTop', false],
  layers: ['layers', GONE],
  'layers.*.sheetResistance': ['layers.M4.sheetResistance', 0.06],
  'layers.*.currentLimits': ['layers.M4.currentLimits', GONE],
  'layers.*.currentLimits[].celsius': ['layers.M4.currentLimits.0.celsius', 86],
  'layers.*.currentLimits[].perMicrometre': ['layers.M4.currentLimits.0.perMicrometre', 3],
  drives: ['drives', GONE],
  'drives.supply': ['drives.supply', 'VSS'],
  'drives.ground': ['drives.ground', 'VDD'],
  clampDrop: ['clampDrop', GONE],
  'clampDrop.threshold': ['clampDrop.threshold', 1.6],
  'clampDrop.resistance': ['clampDrop.resistance', 2],
  padDiode: ['padDiode', GONE],
  'padDiode.threshold': ['padDiode.threshold', 0.9],
  'padDiode.resistance': ['padDiode.resistance', 0.6],
  breakDiode: ['breakDiode', GONE],
  'breakDiode.threshold': ['breakDiode.threshold', 0.8],
  'breakDiode.resistance': ['breakDiode.resistance', 0.5],
  leaveOut: ['leaveOut', ['sup']],
  cells: ['cells.more', { ...hand, role: 'filler' }],
  'cells.*.role': ['cells.sig.role', 'analog'],
  'cells.*.width': ['cells.plain.width', 41],
  'cells.*.height': ['cells.plain.height', 121],
  'cells.*.outward': ['cells.own.outward', 'top'],
  'cells.*.follows': ['cells.turned.follows', 'bottom'],
  'cells.*.setback': ['cells.own.setback', 2],
  'cells.*.landings': ['cells.boot.landings', [{ name: 'p', at: 1 }]],
  'cells.*.landings[].name': ['cells.own.landings.0.name', 'q'],
  'cells.*.landings[].at': ['cells.own.landings.0.at', 21],
  'cells.*.landings[].feeds': ['cells.own.landings.0.feeds', ['VSS']],
  'cells.*.landings[].inside': ['cells.own.landings.0.inside', GONE],
  'cells.*.landings[].inside.t': ['cells.own.landings.0.inside.t', 31],
  'cells.*.landings[].inside.along': ['cells.own.landings.0.inside.along', 31],
  'cells.*.landings[].inside.deep': ['cells.own.landings.0.inside.deep', 31],
  'cells.*.landings[].inside.opening': ['cells.own.landings.0.inside.opening', { along: 21, deep: 21 }],
  'cells.*.landings[].inside.opening.along': ['cells.own.landings.0.inside.opening.along', 21],
  'cells.*.landings[].inside.opening.deep': ['cells.own.landings.0.inside.opening.deep', 21],
  'cells.*.padPin': ['cells.sig.padPin', 'tap'],
  'cells.*.lanes': ['cells.boot.lanes', { VSS: { M4: [[71, 80]] } }],
  'cells.*.lanes.*.*[].from': ['cells.own.lanes.VDD.M4.0.from', 41],
  'cells.*.lanes.*.*[].to': ['cells.own.lanes.VDD.M4.0.to', 61],
  'cells.*.lanes.*.*[].edges': ['cells.own.lanes.VDD.M4.0', { from: 40, to: 60, edges: 'end' }],
  'cells.*.lanes.*.*[].carry': ['cells.own.lanes.VDD.M4.0.carry', 'cut'],
  'cells.*.lacks': ['cells.lacking.lacks', GONE],
  'cells.*.cuts': ['cells.part.cuts', ['VDD', 'VSS']],
  'cells.*.cuts[].lane': ['cells.boot.cuts.0.lane', 'VSS'],
  'cells.*.cuts[].layer': ['cells.boot.cuts.0', { layer: 'M4' }],
  'cells.*.joins': ['cells.sig.joins', GONE],
  'cells.*.joins[].lane': ['cells.sig.joins.0', { layer: 'M5' }],
  'cells.*.joins[].layer': ['cells.sig.joins.0.layer', 'M4'],
  'cells.*.ties': ['cells.tied.ties', GONE],
  'cells.*.clamps': ['cells.own.clamps', [{ supply: 'VSS', ground: 'VDD' }]],
  'cells.*.clamps[].supply': ['cells.own.clamps.0', { supply: 'VSS', ground: 'VDD' }],
  'cells.*.clamps[].ground': ['cells.own.clamps.0', { supply: 'VSS', ground: 'VDD' }],
  'cells.*.diodes': ['cells.part.diodes', GONE],
  'cells.*.standsAlone': ['cells.fill.standsAlone', false],
  'cells.*.padOnTop': ['cells.own.padOnTop', true],
  'cells.*.turns': ['cells.sig.turns', { plain: [90] }],
  'cells.*.turns.plain': ['cells.own.turns.plain', [0]],
  'cells.*.turns.mirrored': ['cells.own.turns.mirrored', []],
  'cells.*.onVertical': ['cells.plain.onVertical', GONE],
  'cells.*.perSection': ['cells.own.perSection', GONE],
  'cells.*.perSection.least': ['cells.own.perSection.least', 2],
  'cells.*.perSection.most': ['cells.own.perSection.most', GONE],
  'cells.*.needs': ['cells.own.needs', ['plain']],
  'cells.*.signals': ['cells.own.signals', GONE],
  'cells.*.signals[].name': ['cells.own.signals.0.name', 'Z'],
  'cells.*.signals[].direction': ['cells.own.signals.0.direction', 'inout'],
  'cells.*.straps': ['cells.own.straps', GONE],
  'cells.*.straps[].lane': ['cells.own.straps.0.lane', 'VSS'],
  'cells.*.straps[].layer': ['cells.own.straps.0.layer', 'M5'],
  'cells.*.straps[].at': ['cells.own.straps.0.at', 19],
  'cells.*.straps[].width': ['cells.own.straps.0.width', 9],
  'cells.*.straps[].t': ['cells.own.straps.0.t', 119],
  'cells.*.rating': ['cells.own.rating', 51],
  'cells.*.drives': ['cells.out.drives', GONE],
  'cells.*.drives.supply': ['cells.out.drives.supply', 'VSS'],
  'cells.*.drives.ground': ['cells.out.drives.ground', 'VDD'],
  'cells.*.drives.slope': ['cells.out.drives.slope', 21],
  'cells.*.clampDrop': ['cells.clamping.clampDrop', GONE],
  'cells.*.clampDrop.threshold': ['cells.clamping.clampDrop.threshold', 2.1],
  'cells.*.clampDrop.resistance': ['cells.clamping.clampDrop.resistance', 2.1],
  'cells.*.padDiode': ['cells.out.padDiode', GONE],
  'cells.*.padDiode.threshold': ['cells.out.padDiode.threshold', 1],
  'cells.*.padDiode.resistance': ['cells.out.padDiode.resistance', 1],
  'cells.*.breakDiode': ['cells.parting.breakDiode', GONE],
  'cells.*.breakDiode.threshold': ['cells.parting.breakDiode.threshold', 1],
  'cells.*.breakDiode.resistance': ['cells.parting.breakDiode.resistance', 1],
};

/** The file with one value changed. */
function changed(file: unknown, [path, value]: Change): unknown {
  const copy = structuredClone(file);
  const steps = path.split('.');
  let here: unknown = copy;
  for (const step of steps.slice(0, -1)) here = Reflect.get(here as object, step);
  const last = steps.at(-1) ?? '';
  if (value === GONE) Reflect.deleteProperty(here as object, last);
  else Reflect.set(here as object, last, value);
  return copy;
}

/** The keys of a JSON Schema as paths; `*` stands for any name, `[]` for an entry of a list. */
function keysOf(schema: unknown, path = ''): string[] {
  if (typeof schema !== 'object' || schema === null) return [];
  const node = schema as Record<string, unknown>;
  const at = (key: string): string => (path === '' ? key : `${path}.${key}`);
  return [
    ...Object.entries((node.properties ?? {}) as object).flatMap(([key, inner]) => [
      at(key),
      ...keysOf(inner, at(key)),
    ]),
    ...keysOf(node.additionalProperties, at('*')),
    ...keysOf(node.items, `${path}[]`),
    ...((node.anyOf ?? []) as unknown[]).flatMap((one) => keysOf(one, path)),
  ];
}

/** All that was read, as text. */
const shown = (file: unknown): string => {
  const read = readCells(file, lef);
  const { footprints, layers, name } = sound(read);
  return stringify({
    name,
    footprints: [...footprints],
    layers: [...(layers ?? [])],
    notes: read.ok && read.notes,
  });
};

describe('the keys of the cell file', () => {
  it('are all in this test', () => {
    expect(Object.keys(changes).sort()).toEqual([...new Set(keysOf(cellFileJsonSchema()))].sort());
  });

  for (const [key, change] of Object.entries(changes))
    it(`${key} changes what is read`, () => {
      const from = key.includes('joins') ? joined : base;
      expect(shown(changed(from, change))).not.toBe(shown(from));
    });
});
