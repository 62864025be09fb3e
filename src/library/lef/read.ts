/** Reading a LEF file: its macros and layers; all else is passed over. Never throws. */
import { failed, found, type Outcome } from '../../problems/problem.ts';
import { bareText } from '../../source/lines.ts';
import { shortText } from '../../source/source.ts';
import { readLayer } from './layer.ts';
import type { Lef, LefLayer, LefMacro } from './lef.ts';
import { readMacro } from './macro.ts';
import {
  keywordOf,
  LEF_LIMITS,
  note,
  passBlock,
  passStatement,
  type Reading,
  startReading,
  wrong,
} from './statements.ts';

/** Top blocks that end with END and their own name, which stands after the keyword. */
const NAMED_BLOCKS = new Set(['SITE', 'VIA', 'VIARULE', 'NONDEFAULTRULE', 'ARRAY']);
/** Top blocks that end with END and their keyword. */
const KEYWORD_BLOCKS = new Set([
  'UNITS',
  'PROPERTYDEFINITIONS',
  'SPACING',
  'IRDROP',
  'NOISETABLE',
  'CORRECTIONTABLE',
]);
const STATEMENTS = new Set([
  'VERSION',
  'BUSBITCHARS',
  'DIVIDERCHAR',
  'NAMESCASESENSITIVE',
  'NOWIREEXTENSIONATPIN',
  'MANUFACTURINGGRID',
  'USEMINSPACING',
  'CLEARANCEMEASURE',
  'FIXEDMASK',
  'MAXVIASTACK',
  'MINFEATURE',
  'DIELECTRIC',
  'EXTENSION',
]);

/** A LEF text to its macros and layers, in the file's order, or every problem at once. */
export function readLef(text: string, file: string): Outcome<Lef> {
  const place = { file, line: 1, column: 1 };
  if (text.length > LEF_LIMITS.characters)
    return failed({
      code: 'file-too-long',
      message: `the file has ${text.length} characters; at most ${LEF_LIMITS.characters} are read`,
      mend: 'leave out what stands for no I/O cell and no metal layer',
      place,
    });
  const reading = startReading(bareText(text), file);
  const macros: LefMacro[] = [];
  const layers: LefLayer[] = [];
  while (readTop(reading, macros, layers)) {
    // Each call reads one statement or block.
  }
  // What follows open quotes is their consequence, so they come first.
  if (reading.words.openQuotes() >= 0)
    reading.problems.unshift({
      code: 'lef-syntax',
      message: 'quotes are opened here and never closed',
      mend: 'close them on the same line, or take them away',
      place: reading.lines(reading.words.openQuotes()),
    });
  if (reading.problems.length > 0) return failed(...reading.problems);
  if (macros.length === 0 && layers.length === 0)
    return failed({
      code: 'lef-empty',
      message: 'the file holds no LEF macro and no LEF layer',
      mend: 'name a LEF file with `MACRO` or `LAYER` blocks; keywords that stand after a `#` are comments',
      place,
    });
  return found({ file, macros, layers }, reading.notes);
}

/** Reads one statement or block of the top level; false at the end of the file or the library. */
function readTop(reading: Reading, macros: LefMacro[], layers: LefLayer[]): boolean {
  const { words } = reading;
  const word = keywordOf(words.take());
  if (word === '') return false;
  if (word === ';') return true;
  if (word === 'MACRO') macros.push(readMacro(reading));
  else if (word === 'LAYER') layers.push(readLayer(reading));
  else if (NAMED_BLOCKS.has(word)) passBlock(reading, word, words.take());
  else if (KEYWORD_BLOCKS.has(word)) passBlock(reading, word, word);
  else if (word === 'BEGINEXT') passExtension(reading);
  else if (word === 'END') {
    if (keywordOf(words.take()) === 'LIBRARY') return false;
    wrong(
      reading,
      'lef-syntax',
      'an `END` stands here with nothing to end',
      'take it away, or look above it for a statement without its `;`',
    );
  } else {
    if (!STATEMENTS.has(word))
      note(reading, 'lef-unknown', `the statement \`${shortText(word, 40)}\` is passed over`);
    passStatement(reading, word);
  }
  return true;
}

function passExtension({ words, problems, lines }: Reading): void {
  const start = words.at();
  for (let word = words.take(); word !== 'ENDEXT'; word = words.take())
    if (word === '') {
      problems.push({
        code: 'lef-syntax',
        message: 'the block `BEGINEXT` has no end',
        mend: 'add `ENDEXT`',
        place: lines(start),
      });
      return;
    }
}
