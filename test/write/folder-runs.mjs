/**
 * What the folder's test starts and kills: writes one of two sets into a folder, over and over where asked. The
 * first argument is the bundled `folder.ts`, then the folder, the set, and how often.
 */
const [, , bundle, dir, which, times] = process.argv;
const { writeSet } = await import(bundle);
const names = {
  a: ['ring.svg', 'placement.json', 'names-left.svg', 'names-top.svg'],
  b: ['ring.svg', 'placement.json', 'bond-pads.csv'],
};
const files = new Map(
  names[which].map((name, i) => [name, `${which} ${name} ${'x'.repeat(20_000 * (i + 1))}\n`]),
);
process.stdout.write('ready\n');
for (let i = 0; i < Number(times); i++) {
  const outcome = writeSet(dir, files);
  if (!outcome.ok) {
    process.stdout.write(`${JSON.stringify(outcome.problems)}\n`);
    process.exitCode = 2;
    break;
  }
}
