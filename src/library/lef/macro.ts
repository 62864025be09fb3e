/** A LEF MACRO block. */
import type { Extent } from '../../geometry/side.ts';
import { type Units, units, ZERO } from '../../geometry/units.ts';
import { shortText } from '../../source/source.ts';
import { LEF_DIRECTIONS, type LefMacro, type LefPin, type LefShape } from './lef.ts';
import { shapesOf } from './shapes.ts';
import {
  keywordOf,
  layerOf,
  lengthOf,
  noEnd,
  numberOf,
  passBlock,
  passStatement,
  placeHere,
  type Reading,
  restOfStatement,
  STARTS,
  takeName,
  wrong,
  wrongStatement,
} from './statements.ts';

/** Reads on after the word MACRO, to its END. */
export function readMacro(reading: Reading): LefMacro {
  const { words } = reading;
  const name = takeName(reading, 'macro');
  const place = placeHere(reading);
  const pins: LefPin[] = [];
  let classes: readonly string[] = [];
  let size: Extent | null = null;
  let symmetry: readonly string[] | null = null;
  let origin = { x: ZERO, y: ZERO };
  let foreignOffset = false;
  body: for (;;) {
    if (words.peek() === 'MACRO') {
      wrong(
        reading,
        'lef-syntax',
        `the macro \`${shortText(name, 60)}\` has no \`END\` before the next one`,
        `add \`END ${shortText(name, 60)}\``,
      );
      break;
    }
    const word = keywordOf(words.take());
    switch (word) {
      case '':
        noEnd(reading, `the macro \`${shortText(name, 60)}\``, `END ${shortText(name, 60)}`);
        break body;
      case ';':
        break;
      case 'END':
        if (endsHere(reading, 'macro', name)) break body;
        break;
      case 'CLASS':
        classes = restOfStatement(reading, word).map((c) => c.toUpperCase());
        break;
      case 'SYMMETRY':
        symmetry = restOfStatement(reading, word).map((c) => c.toUpperCase());
        break;
      case 'SIZE':
        size = sizeOf(reading, restOfStatement(reading, word));
        break;
      case 'ORIGIN': {
        const [x, y] = restOfStatement(reading, word).filter((w) => w !== '(' && w !== ')');
        origin = { x: lengthOf(reading, x, word), y: lengthOf(reading, y, word) };
        break;
      }
      case 'FOREIGN':
        foreignOffset = restOfStatement(reading, word).some((w, i) => i > 0 && (numberOf(w) ?? 0) !== 0);
        break;
      case 'PIN':
        pins.push(readPin(reading));
        break;
      case 'OBS':
      case 'DENSITY':
        passBlock(reading, word);
        break;
      case 'TIMING':
        passBlock(reading, word, word);
        break;
      default:
        passStatement(reading, word);
    }
  }
  return { name, place, classes, size, symmetry, foreignOffset, pins: pins.map((pin) => moved(pin, origin)) };
}

/** Whether the name after END is the block's own; a problem where it is another. */
function endsHere(reading: Reading, kind: string, name: string): boolean {
  const { words } = reading;
  if (words.peek() === name) {
    words.take();
    return true;
  }
  wrong(
    reading,
    'lef-syntax',
    `the ${kind} \`${shortText(name, 60)}\` ends with \`END ${shortText(words.peek(), 60)}\``,
    `it should be \`END ${shortText(name, 60)}\``,
  );
  if (!STARTS.has(words.peek())) words.take();
  return words.peek() === '';
}

function sizeOf(reading: Reading, [width, by, height]: readonly string[]): Extent | null {
  const before = reading.problems.length;
  const size = { width: lengthOf(reading, width, 'SIZE'), height: lengthOf(reading, height, 'SIZE') };
  if (by?.toUpperCase() === 'BY' && size.width > 0 && size.height > 0) return size;
  // A length that is none has been told.
  if (reading.problems.length === before)
    wrongStatement(
      reading,
      'lef-syntax',
      'a `SIZE` must be two lengths above zero with `BY` between',
      'write it as `SIZE 60 BY 120 ;`',
    );
  return null;
}

/** Reads on after the word PIN, to its END. */
function readPin(reading: Reading): LefPin {
  const { words } = reading;
  const name = takeName(reading, 'pin');
  const place = placeHere(reading);
  const shapes: LefShape[] = [];
  let direction: LefPin['direction'] = 'INPUT';
  let use = 'SIGNAL';
  for (;;) {
    const next = words.peek();
    if (next === '' || next === 'MACRO' || next === 'PIN') {
      noEnd(reading, `the pin \`${shortText(name, 60)}\``, `END ${shortText(name, 60)}`);
      break;
    }
    const word = keywordOf(words.take());
    if (word === 'END') {
      if (endsHere(reading, 'pin', name)) break;
    } else if (word === 'DIRECTION') {
      const [said] = restOfStatement(reading, word);
      direction = LEF_DIRECTIONS.find((d) => d === said?.toUpperCase()) ?? direction;
    } else if (word === 'USE') use = (restOfStatement(reading, word)[0] ?? use).toUpperCase();
    else if (word === 'PORT') for (const shape of readPort(reading)) shapes.push(shape);
    else if (word !== ';') passStatement(reading, word);
  }
  return { name, place, direction, use, shapes };
}

/** Reads on after the word PORT, to its END. */
function readPort(reading: Reading): readonly LefShape[] {
  const { words } = reading;
  const shapes: LefShape[] = [];
  let layer: string | null = null;
  let width: Units | null = null;
  for (;;) {
    const next = words.peek();
    if (next === '' || next === 'MACRO' || next === 'PIN' || next === 'PORT') {
      noEnd(reading, 'a port', 'END');
      return shapes;
    }
    const word = keywordOf(words.take());
    if (word === 'END') return shapes;
    if (word === 'LAYER') {
      layer = layerOf(reading);
      width = null;
    } else if (word === 'WIDTH') width = lengthOf(reading, restOfStatement(reading, word)[0], word);
    else if (word === 'RECT' || word === 'POLYGON' || word === 'PATH')
      for (const shape of shapesOf(reading, word, restOfStatement(reading, word), layer, width))
        shapes.push(shape);
    else if (word !== ';') passStatement(reading, word);
  }
}

const moved = (pin: LefPin, by: { x: Units; y: Units }): LefPin =>
  by.x === 0 && by.y === 0
    ? pin
    : { ...pin, shapes: pin.shapes.map((s) => ({ ...s, x: units(s.x + by.x), y: units(s.y + by.y) })) };
