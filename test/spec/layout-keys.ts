/** For keys.test.ts: a change of each key of `layout`, and what becomes of the resolved settings. */
import type { Ring } from '../../src/spec/ring.ts';
import { DRIVEN, ELECTRICAL, PAIRS } from './electrical-keys.ts';
import type { Given } from './sample.ts';

type Swap = readonly [string, string];

interface LayoutChange {
  readonly before: readonly Swap[];
  readonly swap: readonly Swap[];
  readonly given?: Given;
  readonly read: (ring: Ring) => unknown;
  readonly becomes: unknown;
}

const LAYOUT = `layout:
  gdsii:
    bondPads: {layer: 1, datatype: 0}
    openings: {layer: 2, datatype: 0}
    labels: {layer: 3, datatype: 0}
    die: {layer: 4, datatype: 0}
    cells: {layer: 5, datatype: 0}
    stems: {M5: {layer: 6, datatype: 0}}
    rails: {M4: {layer: 7, datatype: 0}, M5: {layer: 17, datatype: 0}}
    coreStrips: {M5: {layer: 8, datatype: 0}}
  def: {padLayer: M5}
`;

const put = (text: string): Swap => ['sides:\n', `${text}sides:\n`];

const PURPOSES = ['bondPads', 'openings', 'labels', 'die', 'cells', 'stems', 'rails', 'coreStrips'] as const;

/** One line a key: the layer's number, and its datatype. */
export const LAYOUT_KEYS: Readonly<Record<string, LayoutChange>> = {
  ...Object.fromEntries(
    PURPOSES.flatMap((purpose, i) =>
      (['layer', 'datatype'] as const).map((key): [string, LayoutChange] => {
        const byName = i > 4;
        const from = `layer: ${i + 1}, datatype: 0`;
        const to = key === 'layer' ? `layer: 99, datatype: 0` : `layer: ${i + 1}, datatype: 99`;
        const strips = purpose === 'coreStrips';
        return [
          `layout.gdsii.${purpose}.${byName ? '*.' : ''}${key}`,
          {
            // Core strips are drawn where the ring has some.
            before: [...(strips ? [PAIRS, put(ELECTRICAL)] : []), put(LAYOUT)],
            swap: [[from, to]],
            ...(strips ? { given: { library: DRIVEN } } : {}),
            read: (ring) => JSON.stringify(ring.layout?.gdsii?.[purpose]).match(/\d\d/)?.[0],
            becomes: '99',
          },
        ];
      }),
    ),
  ),
  'layout.def.padLayer': {
    before: [put(LAYOUT)],
    swap: [['padLayer: M5', 'padLayer: M4']],
    read: (ring) => ring.layout?.def?.padLayer,
    becomes: 'M4',
  },
};
