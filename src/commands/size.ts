/** `ringwright size`: how small the die can be in each style, or what a given die holds; nothing is laid. */

import type { Die } from '../fit/die.ts';
import type { Units } from '../geometry/units.ts';
import type { Outcome, Place, Problem } from '../problems/problem.ts';
import { jsonText } from '../problems/unseen.ts';
import { type Declare, problemsText, type Result, refused } from './command.ts';

export interface SizeOptions {
  readonly json?: boolean;
  /** The file that the drawing goes into; none is written without it. */
  readonly output?: string;
  /** A die to fill, as `3000x2500`. */
  readonly die?: string;
  /** The width of stems in micrometres, where the description has none. */
  readonly stem?: string;
  /** The unused edge of a wafer, in millimetres. */
  readonly exclusion?: string;
}

export const declareSize: Declare = (program, run) => {
  program
    .command('size')
    .description('compare the styles by the least die that holds ring and core, or by what a given die holds')
    .argument('<ring.yaml>', 'ring description')
    .option('--die <width>x<height>', "a die to fill, in um, in place of the description's")
    .option('--stem <um>', 'the width of stems, for styles that need them where the description has none')
    .option('--exclusion <mm>', 'what is not used at the edge of a wafer, in mm (default: 3)')
    .option('-o, --output <file.svg>', 'draw the dies side by side to one scale')
    .option('--json', 'print the figures as JSON')
    .addHelpText('after', '\nExample:\n  ringwright size ring.yaml -o styles.svg\n')
    .action((path: string, options: SizeOptions) => run(() => size(path, options)));
};

/** 0: sized. 1: no style builds the ring, or none holds it on the given die. */
export async function size(path: string, options: SizeOptions): Promise<Result> {
  const json = options.json === true;
  const [{ readText }, { readRing }, { allRules }, { sizeRing }, wanted] = await Promise.all([
    import('./files.ts'),
    import('../spec/read.ts'),
    import('../run.ts'),
    import('../size/size.ts'),
    wantedOf(options),
  ]);
  if (!wanted.ok) return refused(2, wanted.problems, json);
  const described = readRing(readText, path, allRules);
  if (!described.ok) return refused(2, described.problems, json);
  if (options.stem !== undefined && described.value.stems.width > 0)
    return refused(2, [idleStem(options.stem, described.value.place)], json);
  const sized = sizeRing(described.value, wanted.value);
  if (!sized.ok) return refused(1, [...sized.problems, ...described.notes], json);
  const sizes = sized.value;
  let wrote = '';
  if (options.output !== undefined) {
    const [{ stylesSvg }, { replaceDrawing }] = await Promise.all([
      import('../write/styles-svg.ts'),
      import('./replace-file.ts'),
    ]);
    const written = replaceDrawing(options.output, 'styles', stylesSvg(sizes));
    if (!written.ok) return refused(2, written.problems, json);
    wrote = `wrote ${options.output}\n`;
  }
  const held = sizes.given === null || sizes.given.styles.some((style) => style.problems.length === 0);
  const status = held ? 0 : 1;
  if (json)
    return {
      status,
      out: `${jsonText({ status, ...sizes, notes: described.notes })}\n`,
      err: '',
    };
  const { sizesText } = await import('../size/text.ts');
  return { status, out: `${sizesText(sizes)}${wrote}`, err: problemsText(described.notes) };
}

const idleStem = (stem: string, place: Place): Problem => ({
  code: 'useless-option',
  message: `\`--stem ${stem}\` can change nothing: the description says how wide its stems are`,
  mend: 'leave it out, or change `stems` in the description',
  place,
});

interface Wanted {
  die?: Die;
  exclusion?: number;
  stem?: Units;
}

/** The options as lengths. */
async function wantedOf(options: SizeOptions): Promise<Outcome<Wanted>> {
  const [{ failed, found }, { exactUnits, METRE }] = await Promise.all([
    import('../problems/problem.ts'),
    import('../geometry/units.ts'),
  ]);
  const wanted: Wanted = {};
  if (options.die !== undefined) {
    const [, width, height] = /^(\d+(?:\.\d+)?)x(\d+(?:\.\d+)?)$/.exec(options.die.trim()) ?? [];
    const [w, h] = [width, height].map((text) => (text === undefined ? undefined : exactUnits(Number(text))));
    if (w === undefined || h === undefined || w <= 0 || h <= 0 || w > METRE || h > METRE)
      return failed({
        code: 'wrong-option',
        message: `\`--die ${options.die}\` is no width and height in um`,
        mend: 'write it as `--die 3000x2500`',
      });
    wanted.die = { width: w, height: h };
  }
  if (options.stem !== undefined) {
    const stem = exactUnits(options.stem.trim() === '' ? Number.NaN : Number(options.stem));
    if (stem === undefined || stem <= 0 || stem > METRE)
      return failed({
        code: 'wrong-option',
        message: `\`--stem ${options.stem}\` is no width in um`,
        mend: 'write it as `--stem 12`',
      });
    wanted.stem = stem;
  }
  if (options.exclusion !== undefined) {
    const exclusion = Number(options.exclusion);
    if (options.exclusion.trim() === '' || !(exclusion >= 0 && exclusion < 75))
      return failed({
        code: 'wrong-option',
        message: `\`--exclusion ${options.exclusion}\` is no length in mm that leaves anything of a wafer`,
        mend: 'write it as `--exclusion 3`',
      });
    wanted.exclusion = exclusion;
  }
  return found(wanted);
}
