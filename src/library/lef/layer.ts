/** A LEF LAYER block: what a rail's resistance and its current limit need. */
import type { Units } from '../../geometry/units.ts';
import { shortText } from '../../source/source.ts';
import type { LefLayer } from './lef.ts';
import {
  keywordOf,
  lengthOf,
  noEnd,
  numberOf,
  passStatement,
  type Reading,
  restOfStatement,
  takeName,
  wrong,
} from './statements.ts';

/** Reads on after the word LAYER, to its END. */
export function readLayer(reading: Reading): LefLayer {
  const { words } = reading;
  const name = takeName(reading, 'layer');
  let type = '';
  let width: Units | null = null;
  let thickness: Units | null = null;
  let sheetResistance: number | null = null;
  let single: number | undefined;
  let widths: readonly Units[] = [];
  let limits: readonly number[] = [];
  // The table of a current density goes on after its first `;`, with a WIDTH that is not the layer's.
  let table: 'direct' | 'other' | null = null;
  for (;;) {
    const word = keywordOf(words.take());
    if (word === '' || word === 'MACRO') {
      noEnd(reading, `the layer \`${shortText(name, 60)}\``, `END ${shortText(name, 60)}`);
      break;
    }
    if (word === 'END') {
      if (words.take() !== name)
        wrong(
          reading,
          'lef-syntax',
          `the layer \`${shortText(name, 60)}\` ends with another name`,
          `it should be \`END ${shortText(name, 60)}\``,
        );
      break;
    }
    if (word === 'TYPE') type = (restOfStatement(reading, word)[0] ?? '').toUpperCase();
    else if (word === 'THICKNESS') thickness = lengthOf(reading, restOfStatement(reading, word)[0], word);
    else if (word === 'WIDTH') {
      const list = restOfStatement(reading, word);
      if (table === null) width = lengthOf(reading, list[0], word);
      else if (table === 'direct') widths = list.map((w) => lengthOf(reading, w, word));
    } else if (word === 'TABLEENTRIES') {
      const list = restOfStatement(reading, word);
      if (table === 'direct') limits = list.map((w) => numberOf(w) ?? Number.NaN);
      table = null;
    } else if (word === 'RESISTANCE') {
      const [kind, value] = restOfStatement(reading, word);
      if (kind === 'RPERSQ') sheetResistance = numberOf(value) ?? null;
    } else if (word === 'DCCURRENTDENSITY') {
      const [, value, ...more] = restOfStatement(reading, word);
      single = numberOf(value);
      if (value === 'WIDTH') {
        table = 'direct';
        widths = more.map((w) => lengthOf(reading, w, value));
      } else if (single === undefined) table = 'other';
    } else if (word === 'ACCURRENTDENSITY') {
      if (numberOf(restOfStatement(reading, word)[1]) === undefined) table = 'other';
    } else if (word !== ';') passStatement(reading, word);
  }
  const byWidth = limits.map((limit, i) => ({ width: widths[i] ?? null, limit }));
  const currentDensity = (single === undefined ? byWidth : [{ width: null, limit: single }]).filter(
    ({ limit }) => limit > 0,
  );
  return { name, type, width, sheetResistance, thickness, currentDensity };
}
