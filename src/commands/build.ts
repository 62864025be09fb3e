/** `ringwright build`: lay a ring and write its files. */

import { join } from 'node:path';
import type { Placement } from '../format/placement.ts';
import { found, type Outcome } from '../problems/problem.ts';
import { jsonText } from '../problems/unseen.ts';
import {
  counted,
  type Declare,
  findingsText,
  problemsText,
  type Result,
  refused,
  type Status,
} from './command.ts';

export interface BuildOptions {
  readonly output?: string;
  /** Layout formats to write as well, joined by commas. */
  readonly write?: string;
  /** An older placement file whose places are kept. */
  readonly keep?: string;
  /** The chip's ports, to compare with the pins. */
  readonly ports?: string;
  readonly json?: boolean;
}

export const declareBuild: Declare = (program, run) => {
  program
    .command('build')
    .description('lay the ring that a description asks for and write placement, drawings and bond-pad table')
    .argument('<ring.yaml>', 'ring description')
    .option('-o, --output <folder>', "folder for the files (default: out/ and the ring's name)")
    .option('--write <formats>', 'layout formats as well, joined by commas: gdsii, def, verilog, cells')
    .option('--keep <placement.json>', 'hold pins at the place and number that an older placement gave them')
    .option('--ports <file>', "compare the pins with the chip's ports: names, or a Verilog module header")
    .option('--json', 'print the outcome as JSON')
    .addHelpText('after', '\nExample:\n  ringwright build ring.yaml -o out/first --write def,verilog\n')
    .action((path: string, options: BuildOptions) => run(() => build(path, options)));
};

/** Reads, lays, judges and writes; a ring that breaks a rule is still written. */
export async function build(path: string, options: BuildOptions): Promise<Result> {
  const [{ run, isSound }, { readText }] = await Promise.all([import('../run.ts'), import('./files.ts')]);
  const json = options.json === true;
  const formats = await formatsOf(options.write);
  if (!formats.ok) return refused(2, formats.problems, json);
  const keep = await olderPlacement(options.keep);
  if (!keep.ok) return refused(2, keep.problems, json);
  const outcome = run(readText, path, keep.value);
  if (outcome.kind === 'unreadable') return refused(2, outcome.problems, json);
  if (outcome.kind === 'impossible') return refused(1, [...outcome.problems, ...outcome.notes], json);
  const { placement, notes, layout } = outcome;
  const ports = await portsOf(options.ports, placement);
  if (!ports.ok) return refused(2, ports.problems, json);
  const extra = formats.value(placement, layout);
  if (!extra.ok) return refused(2, extra.problems, json);
  const [{ filesOf }, { writeSet }, { summaryText }] = await Promise.all([
    import('../write/files.ts'),
    import('../write/folder.ts'),
    import('../write/summary.ts'),
  ]);
  const folder = options.output ?? join('out', folderName(placement.ring));
  const files = new Map<string, string | Uint8Array>([
    ...filesOf(placement),
    ...extra.value.map(({ name, content }): [string, string | Uint8Array] => [name, content]),
  ]);
  const written = writeSet(folder, files);
  if (!written.ok) return refused(2, written.problems, json);
  const status: Status = isSound(placement) && ports.value.agree ? 0 : 1;
  const told = [...notes, ...extra.notes];
  if (json) {
    const { die, core, sides, findings, summary } = placement;
    const report = {
      status,
      folder,
      files: [...files.keys()],
      ring: placement.ring,
      die,
      core,
      sides,
      findings,
      summary,
      ...(ports.value.data === null ? {} : { ports: ports.value.data }),
      notes: told,
    };
    return { status, out: `${jsonText(report)}\n`, err: '' };
  }
  const wrote = `wrote ${counted(files.size, 'file')} to ${folder}\n`;
  return {
    status,
    out: `${summaryText(placement)}${ports.value.text}${wrote}`,
    err: problemsText(told) + findingsText(placement.findings),
  };
}

type LayoutWriter = (
  placement: Placement,
  layout: import('../spec/layout.ts').Layout,
) => Outcome<readonly { readonly name: string; readonly content: string | Uint8Array }[]>;

/** The writer of the formats that are asked for; none where none is. */
async function formatsOf(list: string | undefined): Promise<Outcome<LayoutWriter>> {
  if (list === undefined) return found(() => found([]));
  const { chosenFormats, layoutFiles } = await import('../write/layout/index.ts');
  const chosen = chosenFormats(list);
  if (!chosen.ok) return chosen;
  return found((placement, layout) => layoutFiles(placement, chosen.value, layout));
}

async function olderPlacement(path: string | undefined): Promise<Outcome<Placement | undefined>> {
  if (path === undefined) return found(undefined);
  const [{ readText }, { readPlacement }] = await Promise.all([
    import('./files.ts'),
    import('../format/read.ts'),
  ]);
  const text = readText(path);
  return text.ok ? readPlacement(text.value, path) : text;
}

interface Ports {
  readonly agree: boolean;
  readonly text: string;
  readonly data: unknown;
}

/** Ports against pins. Supplies are often no ports of the chip's module, so these alone do not disagree. */
async function portsOf(path: string | undefined, placement: Placement): Promise<Outcome<Ports>> {
  if (path === undefined) return found({ agree: true, text: '', data: null });
  const [{ readText }, { comparePorts, portsText, readPorts }] = await Promise.all([
    import('./files.ts'),
    import('../compare/ports.ts'),
  ]);
  const text = readText(path);
  if (!text.ok) return text;
  const ports = readPorts(text.value, path);
  if (!ports.ok) return ports;
  const compared = comparePorts(ports.value, placement);
  const agree =
    compared.portsWithoutPin.length === 0 && compared.pinsWithoutPort.every((pin) => pin.kind !== 'signal');
  return found({ agree, text: `\nports\n${portsText(compared)}`, data: compared });
}

/** A ring's name as a folder's: nothing that could lead elsewhere. */
const folderName = (name: string): string => {
  const plain = name.replace(/[^\p{L}\p{N}_.-]+/gu, '-').replace(/^[.-]+/, '');
  return plain === '' ? 'ring' : plain;
};
