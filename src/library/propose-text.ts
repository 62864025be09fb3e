/** The text of a proposed cell file. */
import { stringify } from 'yaml';
import type { Side } from '../geometry/side.ts';
import type { Problem } from '../problems/problem.ts';
import { shortText } from '../source/source.ts';
import type { Footprint } from './footprint.ts';

/** The word that starts the comment at every open point. */
export const OPEN_MARK = 'settle:';

export interface ProposedCellFile {
  readonly yaml: string;
  /** The open points, one line each, in the file's order. */
  readonly open: readonly string[];
}

export interface CellFindings {
  readonly footprint: Footprint;
  /** Why its role is likely; undefined where LEF leaves no doubt. */
  readonly because: string | undefined;
  readonly problems: readonly Problem[];
  /** Whether its strips are drawn as stubs only. */
  readonly stubs: boolean;
}

export interface Findings {
  readonly name: string;
  readonly lef: readonly string[];
  readonly outward: Side | undefined;
  readonly cells: readonly CellFindings[];
  /** What stands against cells that could not be looked into. */
  readonly unplaced: readonly string[];
  /** How many macros are of other classes than a ring's. */
  readonly otherClasses: number;
  readonly metalKnown: boolean;
}

/** The cell file; every open point is a comment that starts with {@link OPEN_MARK}. */
export function proposalText(findings: Findings): ProposedCellFile {
  const { cells, outward } = findings;
  const open: string[] = [];
  const settle = (text: string, about?: string): string => {
    const line = plain(text);
    open.push(about === undefined ? line : `${plain(about)}: ${line}`);
    return `# ${OPEN_MARK} ${line}`;
  };
  const lines = [
    `# A cell file proposed from LEF. What LEF leaves open is marked "${OPEN_MARK}"; go through every such point with the`,
    '# library\u2019s manual, then take the mark away.',
    '',
    `name: ${scalar(findings.name)}`,
    'lef:',
    ...findings.lef.map((name) => `  - ${scalar(name)}`),
    'drawn:',
    outward === undefined
      ? `  outward: bottom ${settle('no pad pin tells which edge of the drawings faces the die edge')}`
      : `  outward: ${outward} # where the pad pins lie`,
  ];
  const stubs = cells.filter((cell) => cell.stubs);
  if (stubs.length > 0)
    lines.push(
      `  stubs: joined ${settle(`LEF draws strips only at the edges of ${some(stubs)}; cut if they do not go on inside`)}`,
    );
  lines.push(`padOnTop: false ${settle('may bond pads lie on the cells?')}`);
  const padsInside = cells.some(({ problems }) => problems.some((one) => one.code === 'unknown-pad-size'));
  if (padsInside)
    lines.push(
      settle('cells contain their bond pads; how large are metal and opening?'),
      '# insidePad: {along: 64, deep: 64, opening: {along: 60, deep: 60}}',
    );
  if (!findings.metalKnown)
    lines.push(
      settle('LEF gives no sheet resistances; without them drops along the rails are not assessed'),
      '# layers: {M5: {sheetResistance: 0.05, currentLimits: [{celsius: 110, perMicrometre: 1}]}}',
    );
  for (const message of findings.unplaced) lines.push(settle(message));
  if (findings.otherClasses > 0)
    lines.push(
      `# ${findings.otherClasses} macros of other LEF classes are no cells of a ring unless named below.`,
    );
  lines.push('cells:');
  const narrow = narrowest(cells);
  const clear: string[] = [];
  for (const cell of cells) {
    const own = cellLines(cell, narrow, padsInside ? ', inside: {t: 40}' : '', settle);
    if (own.length === 0) clear.push(cell.footprint.name);
    else lines.push(...own);
  }
  if (clear.length === cells.length) lines[lines.length - 1] = 'cells: {}';
  if (clear.length > 0)
    lines.push('  # LEF says all that is needed of:', ...clear.map((name) => `  # ${plain(name)}`));
  return { yaml: `${lines.join('\n')}\n`, open };
}

type Settle = (text: string, about?: string) => string;

function cellLines(
  cell: CellFindings,
  narrow: string | undefined,
  inside: string,
  settle: Settle,
): readonly string[] {
  const { footprint, because, problems } = cell;
  const { name, role } = footprint;
  const lines: string[] = [];
  if (because !== undefined) lines.push(`role: ${role} ${settle(`${because}; is that its role?`, name)}`);
  for (const { code, message, mend } of problems) {
    if (code === 'unknown-pad-size') continue;
    lines.push(settle(mend === undefined || code === 'no-landing' ? message : `${message}; ${mend}`, name));
    const feeds = role === 'supply' ? ', feeds: [LANE]' : '';
    if (code === 'no-landing')
      lines.push(`# landings: [{name: pad, at: ${footprint.width / 2e6}${feeds}${inside}}]`);
  }
  const cut = footprint.lanes.flatMap(({ lane, strips }) =>
    strips.some((strip) => strip.edges === 'both' && strip.carry === 'cut') ? [lane] : [],
  );
  if (cut.length > 0)
    lines.push(
      settle(
        `strips of ${cut.join(', ')} end inside, as they are drawn; list them under joins if they go on`,
        name,
      ),
    );
  if (role === 'supply' && footprint.clamps.length === 0)
    lines.push(settle('does it hold a discharge clamp?', name), '# clamps: [{supply: LANE, ground: LANE}]');
  if (role === 'break')
    lines.push(settle('do back-to-back diodes join the grounds that it parts?', name), '# diodes: [LANE]');
  if (name === narrow)
    lines.push(settle('may this filler be the only one in a gap?', name), '# standsAlone: false');
  return lines.length === 0 ? [] : [`  ${scalar(name)}:`, ...lines.map((line) => `    ${line}`)];
}

/** The narrowest filler: if any may not stand alone, it is this one. */
function narrowest(cells: readonly CellFindings[]): string | undefined {
  return cells
    .map(({ footprint }) => footprint)
    .filter(({ role }) => role === 'filler')
    .toSorted((a, b) => a.width - b.width)[0]?.name;
}

function some(cells: readonly CellFindings[]): string {
  const names = cells.slice(0, 3).map(({ footprint }) => footprint.name);
  return cells.length > 3 ? `${names.join(', ')} and ${cells.length - 3} more` : names.join(', ');
}

/** A text that stays on one line of a comment. */
const plain = (text: string): string => shortText(text, 400);

/** A name as YAML writes it on one line. */
const scalar = (name: string): string => stringify(name, { lineWidth: 0, defaultStringType: 'PLAIN' }).trim();
