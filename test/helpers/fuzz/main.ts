/**
 * The process that takes the inputs: reads, lays, checks and writes as the commands do, holds what comes out to what
 * must hold, and prints its figures as one line of JSON. It is bundled and started by `start.ts`.
 */
import { mkdirSync, openSync, writeFileSync, writeSync } from 'node:fs';
import { join } from 'node:path';
import { decoded } from '../../../src/commands/files.ts';
import { difference } from '../../../src/compare/difference.ts';
import { differenceText } from '../../../src/compare/text.ts';
import type { Placement } from '../../../src/format/placement.ts';
import { readPlacement } from '../../../src/format/read.ts';
import { proposeCellFile } from '../../../src/library/propose.ts';
import { readLibrary } from '../../../src/library/read-library.ts';
import { failed, found, type Outcome } from '../../../src/problems/problem.ts';
import { allRules, findingsOf, rejudged, run } from '../../../src/run.ts';
import { differenceSvg } from '../../../src/write/difference-svg.ts';
import { filesOf } from '../../../src/write/files.ts';
import { placementJson } from '../../../src/write/json.ts';
import { chosenFormats, layoutFiles } from '../../../src/write/layout/index.ts';
import { summaryText } from '../../../src/write/summary.ts';
import { suppliesText } from '../../../src/write/supplies-text.ts';
import { diceFrom } from './dice.ts';
import { EXTREMES } from './extremes.ts';
import { filesHold, problemsHold, soundlyLaid, svgHolds, type Texts, Wrong } from './holds.ts';
import { mutated } from './mutate.ts';
import { PROJECTS, type Project, type Reader } from './seeds.ts';

export interface Order {
  readonly reader: Reader;
  readonly seed: number;
  readonly from: number;
  readonly count: number;
  /** A folder; drawings to look at with other tools are left in it. */
  readonly folder: string;
  /** The guard for one input. */
  readonly milliseconds: number;
  /** Small rings only, and files written of few: for the suite. */
  readonly brief: boolean;
}

export interface Figures {
  readonly reader: Reader;
  inputs: number;
  laid: number;
  refused: number;
  impossible: number;
  /** In the longest one, and which it was. */
  longest: number;
  longestAt: number;
  peakMegabytes: number;
  /** Rings of which every file was written and looked at. */
  written: number;
  drawings: number;
  readonly wrong: { readonly index: number; readonly what: string }[];
  /** How often each rule found something in rings that were laid. */
  readonly rules: Record<string, number>;
}

const order: Order = JSON.parse(process.argv[2] ?? '{}');
const { reader, seed, folder } = order;
const figures: Figures = {
  reader,
  inputs: 0,
  laid: 0,
  refused: 0,
  impossible: 0,
  longest: 0,
  longestAt: -1,
  peakMegabytes: 0,
  written: 0,
  drawings: 0,
  wrong: [],
  rules: {},
};
/** The projects that inputs are made from; a large demonstration is one whose share is small. */
const ABLE = PROJECTS.filter(
  (project) => project.read[reader] !== undefined && !(order.brief && project.share === 1),
);
/** Of every so many rings the files are written. */
const WRITTEN = 8;
/** Every so many survivors the drawings are kept for xmllint. */
const SAMPLE = order.brief ? 5 : 20;

const DEFAULT_SEVERITY = new Map(allRules.map((rule) => [rule.name, rule.severity]));

interface Place {
  readonly project: Project;
  /** The sound files by path. */
  readonly texts: Map<string, string>;
  placement: Placement | undefined;
}

const places = new Map<string, Place>();

/** The file that holds an input in place of its sound text. */
let input: { readonly file: string; readonly bytes: Uint8Array } | undefined;

/** Reads as the commands do, from memory. */
function readText(path: string): Outcome<string> {
  if (input?.file === path) return decoded(input.bytes, path);
  for (const { texts } of places.values()) {
    const text = texts.get(path);
    if (text !== undefined) return found(text);
  }
  return failed({
    code: 'no-such-file',
    message: 'there is no such file',
    place: { file: path, line: 1, column: 1 },
  });
}

/** A project with its sound files, and for placements the one that is laid from them. */
function placeOf(project: Project): Place {
  const known = places.get(project.name);
  if (known !== undefined) return known;
  const texts = new Map(
    Object.entries(project.files).map(([name, text]) => [`${project.name}/${name}`, text]),
  );
  const place: Place = { project, texts, placement: undefined };
  places.set(project.name, place);
  const sound = run(readText, `${project.name}/ring.yaml`);
  if (sound.kind !== 'laid')
    throw new Error(
      `${project.name} cannot be laid: ${sound.problems.map((p) => `${p.place?.line} ${p.message}`).join('; ')}`,
    );
  soundlyLaid(sound.placement);
  place.placement = sound.placement;
  if (project.read.placement !== undefined)
    texts.set(`${project.name}/placement.json`, placementJson(sound.placement));
  return place;
}

/** An input: the project, the file that is another now, and its bytes. */
function inputAt(index: number): { place: Place; file: string; bytes: Buffer } {
  const dice = diceFrom(seed, reader, index);
  const project = dice.shared(ABLE, ({ share }) => share);
  if (project === undefined) throw new Error(`nothing is read by ${reader}`);
  const place = placeOf(project);
  const file = `${project.name}/${dice.of(project.read[reader] ?? [])}`;
  const extreme = EXTREMES[reader][index];
  if (extreme !== undefined) return { place, file, bytes: Buffer.from(extreme(), 'utf8') };
  const other = dice.of([...place.texts.values()]) ?? '';
  return { place, file, bytes: mutated(place.texts.get(file) ?? '', other, dice) };
}

/** One input the whole way. */
function take(index: number): void {
  const { place, file, bytes } = inputAt(index);
  input = { file, bytes };
  const texts = new Map(place.texts).set(file, bytes.toString('utf8'));
  if (reader === 'placement') timed(index, () => takePlacement(place, file, texts, index));
  else timed(index, () => takeRing(place, texts, index));
  if (reader === 'lef') timed(index, () => takeLef(place, texts));
}

/** What one command takes. */
function timed(index: number, work: () => void): void {
  const [started, used] = [performance.now(), process.cpuUsage()];
  work();
  // Where the process had to wait for others on a busy machine, its own time is the less.
  const { user, system } = process.cpuUsage(used);
  const took = Math.min(performance.now() - started, (user + system) / 1000);
  if (took > figures.longest) [figures.longest, figures.longestAt] = [took, index];
  if (took > order.milliseconds) throw new Wrong(`took ${Math.round(took)} ms`);
}

function takeRing({ project, placement: keep }: Place, texts: Texts, index: number): void {
  const path = `${project.name}/ring.yaml`;
  const outcome = run(readText, path, index % 8 === 7 ? keep : undefined);
  if (outcome.kind !== 'laid') {
    if (outcome.problems.length === 0) throw new Wrong('refused without a problem');
    problemsHold(outcome.problems, texts);
    if (outcome.kind === 'unreadable') figures.refused++;
    else figures.impossible++;
    return;
  }
  figures.laid++;
  const { placement, notes, layout } = outcome;
  problemsHold(notes, texts);
  for (const { rule } of placement.findings) figures.rules[rule] = (figures.rules[rule] ?? 0) + 1;
  soundlyLaid(strict(placement), reader === 'lef' || reader === 'cells');
  written(placement, layout, index);
}

/** The placement with the severities that rules have of themselves, and no waiver. */
function strict(placement: Placement): Placement {
  const findings = placement.findings.map((finding) => ({
    ...finding,
    severity: DEFAULT_SEVERITY.get(finding.rule) ?? finding.severity,
  }));
  return { ...placement, findings };
}

/** Files are written of some rings, and of none so large that writing it is real work of seconds. */
function written(placement: Placement, layout: Parameters<typeof layoutFiles>[2], index: number): void {
  if (figures.laid % WRITTEN !== 0 || placement.cells.length > 4000) return;
  figures.written++;
  const formats = chosenFormats(layout.gdsii === undefined ? 'def,verilog,cells' : 'gdsii,def,verilog,cells');
  if (!formats.ok) throw new Wrong('no layout formats');
  const extra = layoutFiles(placement, formats.value, layout);
  const files = new Map<string, string | Uint8Array>([
    ...filesOf(placement),
    ...(extra.ok
      ? extra.value.map(({ name, content }): [string, string | Uint8Array] => [name, content])
      : []),
  ]);
  filesHold(files);
  textHolds(summaryText(placement));
  if (placement.rules.electrical !== undefined) textHolds(suppliesText(placement));
  keepDrawings(files, index);
}

/** What is printed on a terminal: nothing that steers it. */
function textHolds(text: string): void {
  const odd = /(?![\t\n])\p{Cc}|[\u202a-\u202e\u2066-\u2069]/u.exec(text);
  if (odd) throw new Wrong(`a printed text holds the sign ${odd[0].charCodeAt(0)}`);
}

function keepDrawings(files: ReadonlyMap<string, string | Uint8Array>, index: number): void {
  if (figures.written % SAMPLE !== 0) return;
  mkdirSync(join(folder, 'drawings'), { recursive: true });
  for (const [name, content] of files) {
    if (!name.endsWith('.svg')) continue;
    writeFileSync(join(folder, 'drawings', `${reader}-${index}-${name}`), content);
    figures.drawings++;
  }
}

/** `ringwright cells` on the LEF files, and the proposed file read with them. */
function takeLef({ project }: Place, texts: Texts): void {
  const files = ['layers.lef', 'io.lef'].map((name) => `${project.name}/${name}`);
  const read = files.map((path) => ({ path, text: readText(path) }));
  if (read.some(({ text }) => !text.ok)) return;
  const cellFile = `${project.name}/proposed.yaml`;
  const proposed = proposeCellFile(
    read.map(({ path, text }) => ({ path, text: text.ok ? text.value : '' })),
    cellFile,
  );
  if (!proposed.ok) {
    problemsHold(proposed.problems, texts);
    return;
  }
  const { yaml } = proposed.value;
  const again = readLibrary((path) => (path === cellFile ? found(yaml) : readText(path)), cellFile);
  problemsHold(again.ok ? again.notes : again.problems, new Map([...texts, [cellFile, yaml]]));
}

/** `check`, `supplies`, `diff` and `build --keep` on a placement. */
function takePlacement(place: Place, file: string, texts: Texts, index: number): void {
  const text = readText(file);
  const read = text.ok ? readPlacement(text.value, file) : text;
  if (!read.ok) {
    figures.refused++;
    problemsHold(read.problems, texts);
    return;
  }
  figures.laid++;
  for (const { rule, message, items } of findingsOf(read.value)) {
    figures.rules[rule] = (figures.rules[rule] ?? 0) + 1;
    if (items.length === 0 || /\b(NaN|undefined|Infinity)\b/.test(message.replace(/"[^"]*"/g, '')))
      throw new Wrong(`a finding that cannot be read: ${message}`);
    textHolds(message);
  }
  const judged = rejudged(read.value);
  if (judged.rules.electrical !== undefined) textHolds(suppliesText(judged));
  const before = place.placement;
  if (before === undefined) return;
  const changes = difference(before, read.value);
  textHolds(differenceText(changes));
  if (index % 6 === 0) svgHolds('difference.svg', differenceSvg(before, read.value, changes));
  if (index % 6 !== 3) return;
  const kept = run(readText, `${place.project.name}/ring.yaml`, read.value);
  if (kept.kind === 'unreadable') throw new Wrong('a sound description is refused');
  if (kept.kind === 'laid') soundlyLaid(strict(kept.placement));
  else problemsHold(kept.problems, texts);
}

const mark = openSync(join(folder, `at-${reader}`), 'w');
const now = (index: number): void => {
  writeSync(mark, String(index).padEnd(9), 0);
};

for (const project of ABLE) placeOf(project);
for (let index = order.from; index < order.from + order.count; index++) {
  now(index);
  try {
    take(index);
  } catch (error) {
    const what =
      error instanceof Wrong
        ? error.message
        : error instanceof Error
          ? `an exception: ${error.stack?.split('\n').slice(0, 4).join(' | ')}`
          : String(error);
    figures.wrong.push({ index, what });
  }
  figures.inputs++;
}
figures.peakMegabytes = Math.ceil(process.resourceUsage().maxRSS / 1024);
writeSync(1, `${JSON.stringify(figures)}\n`);
