#!/usr/bin/env node
/** The entry: one line a command. Every way out ends in 0, 1 or 2. */
import { writeSync } from 'node:fs';
import { setFlagsFromString } from 'node:v8';
import { Command, CommanderError } from 'commander';
import { declareBond } from './commands/bond.ts';
import { declareBuild } from './commands/build.ts';
import { declareCells } from './commands/cells.ts';
import { declareCheck } from './commands/check.ts';
import type { Declare, Result } from './commands/command.ts';
import { declareDiff } from './commands/diff.ts';
import { declareInit } from './commands/init.ts';
import { declareSize } from './commands/size.ts';
import { declareSupplies } from './commands/supplies.ts';
import { declareView } from './commands/view.ts';

// A command runs for a fraction of a second: code is compiled for speed only where it is truly hot, which saves a
// quarter of a cold build. Later versions have no such flag, and complain of flags that they do not know.
if (process.versions.node.startsWith('20.')) setFlagsFromString('--interrupt-budget=1000000');

const COMMANDS: readonly Declare[] = [
  declareBuild,
  declareCheck,
  declareCells,
  declareInit,
  declareBond,
  declareSupplies,
  declareSize,
  declareDiff,
  declareView,
];

const CAUTION = `
A first cut and a review aid. The foundry's design rules, the cell library's manual, the assembly house's
rules and the discharge review stand above it, and a qualified engineer signs the ring off.

Exit status: 0 sound, 1 the ring breaks a rule or cannot be laid, 2 unreadable input, a wrong call or a fault.
`;

/** Writes all of a text before going on: a pipe takes it in pieces. */
const print = (stream: NodeJS.WriteStream, text: string): Promise<void> =>
  text === '' ? Promise.resolve() : new Promise((resolve) => stream.write(text, () => resolve()));

async function finish(work: () => Promise<Result>): Promise<void> {
  const { status, out, err } = await work();
  await print(process.stdout, out);
  await print(process.stderr, err);
  process.exitCode = status;
}

function fault(error: unknown): void {
  const text = error instanceof Error ? error.message : String(error);
  process.stderr.write(`ringwright: a fault of the program: ${text}\n`);
  process.exitCode = 2;
}

process.on('uncaughtException', (error) => {
  fault(error);
  process.exit(2);
});
process.on('unhandledRejection', (error) => {
  fault(error);
  process.exit(2);
});
// A reader that has seen enough, such as `head`, is no fault.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code === 'EPIPE') process.exit(0);
  try {
    writeSync(2, `ringwright: what is to be printed cannot be written (${error.code})\n`);
  } catch {
    // Where nothing can be told at all, the exit status tells it.
  }
  process.exit(2);
});

const program = new Command('ringwright')
  .description('Lay, judge and explain the I/O ring of a wire-bonded chip from one text file.')
  .version('0.1.0')
  .showHelpAfterError('(ringwright --help shows the commands)')
  .addHelpText('after', CAUTION);
for (const declare of COMMANDS) declare(program, finish);
for (const command of [program, ...program.commands]) command.exitOverride();

try {
  await program.parseAsync(process.argv);
} catch (error) {
  if (error instanceof CommanderError) process.exitCode = error.exitCode === 0 ? 0 : 2;
  else fault(error);
}
