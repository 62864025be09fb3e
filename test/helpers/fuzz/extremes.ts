/** A handful of inputs that are large, deep or dense on purpose: a million lines, bombs of aliases, heaps of brackets. */
import type { Reader } from './seeds.ts';

const MILLION = 1_000_000;

/** Each alias stands for nine of the one before: 9^12 values. */
const bomb = (): string =>
  Array.from(
    { length: 12 },
    (_, i) =>
      `a${i}: &a${i} [${Array(9)
        .fill(i === 0 ? 'x' : `*a${i - 1}`)
        .join(', ')}]\n`,
  ).join('');
/** The same of merge keys and maps. */
const merges = (): string =>
  Array.from(
    { length: 14 },
    (_, i) =>
      `m${i}: &m${i} {${i === 0 ? 'k: 1' : `<<: [*m${i - 1}, *m${i - 1}], k: *m${i - 1}, l: *m${i - 1}`}}\n`,
  ).join('');

const yaml: readonly (() => string)[] = [
  () => '\n'.repeat(MILLION),
  () => '- \n'.repeat(MILLION),
  () => 'a: 1\n'.repeat(MILLION),
  () => '# nothing\n'.repeat(MILLION / 2),
  () => `ring: ${'x'.repeat(8_000_000)}\n`,
  () => `"${'\\u0041'.repeat(MILLION)}"`,
  () => `'${"''".repeat(MILLION)}'`,
  () => '['.repeat(MILLION),
  () => '{'.repeat(MILLION),
  () => '- '.repeat(MILLION),
  () => '? '.repeat(MILLION),
  () => '&a '.repeat(MILLION),
  () => '!x '.repeat(MILLION),
  () => `sides: {left: [${'{pin: A, cell: io}, '.repeat(20_000)}]}`,
  () => `sides:\n  left:\n${'    - {pin: A, cell: io}\n'.repeat(20_000)}`,
  () => Array.from({ length: 100_000 }, (_, i) => `key${i}: ${i}\n`).join(''),
  () => Array.from({ length: 60_000 }, (_, i) => `"\\x41${i}": {}\n`).join(''),
  () => `a: &a ${'x'.repeat(4_000_000)}\nb: [${'*a, '.repeat(100_000)}]`,
  () => `${'x'.repeat(65_536)}: `.repeat(100),
  () => '%TAG ! !\n'.repeat(200_000),
  () => '--- a\n'.repeat(MILLION),
  () => `|\n${' x\n'.repeat(MILLION)}`,
  bomb,
  merges,
  () => `${' '.repeat(MILLION)}x: ${'\t'.repeat(MILLION)}`,
];

const table: readonly (() => string)[] = [
  () => '\n'.repeat(MILLION),
  () => `side,pin,cell\n${'left,A,io\n'.repeat(700_000)}`,
  () => `side,pin,cell\n${'left,A,io\n'.repeat(100_000)}`,
  () => `side,pin,cell\n${Array.from({ length: 20_000 }, (_, i) => `left,A${i},io\n`).join('')}`,
  () => `side,pin,cell\n${Array.from({ length: 20_000 }, (_, i) => `left,A${i},iq${i}\n`).join('')}`,
  () => `${','.repeat(MILLION)}\n`,
  () => '"'.repeat(MILLION),
  () => '"",'.repeat(MILLION),
  () => `"${'a""'.repeat(MILLION)}`,
  () => `side,pin,cell\n"${'x\n'.repeat(MILLION)}",a,b`,
  () => Array.from({ length: 50_000 }, (_, i) => `c${i}`).join(','),
  () => ';\t,'.repeat(MILLION),
  () => `a\r${'b\r'.repeat(MILLION)}`,
  () => `sep=;\nside;pin;cell\n${'left;A;io\n'.repeat(50_000)}`,
];

const lef: readonly (() => string)[] = [
  () => '\n'.repeat(MILLION),
  () => '# nothing\n'.repeat(MILLION),
  () => 'RECT 0 0 1 1 ;\n'.repeat(MILLION),
  () => `MACRO a\n  PIN p\n    PORT\n${'      RECT 0 0 1 1 ;\n'.repeat(MILLION)}`,
  () => `MACRO a\n  OBS\n  LAYER M ;\n${'      RECT 0 0 1 1 ;\n'.repeat(MILLION)} END\nEND a\n`,
  () =>
    Array.from({ length: 100_000 }, (_, i) => `MACRO m${i}\nCLASS PAD ;\nSIZE 1 BY 1 ;\nEND m${i}\n`).join(
      '',
    ),
  () =>
    Array.from({ length: 9_000 }, (_, i) => `MACRO m${i}\nCLASS PAD ;\nSIZE 1 BY 1 ;\nEND m${i}\n`).join(''),
  () => 'MACRO a\n'.repeat(MILLION),
  () => `MACRO a CLASS PAD ; SIZE 9 BY 9 ; PIN p ${'PORT '.repeat(MILLION)}`,
  () => `MACRO a PIN p PORT POLYGON ${'0 1 '.repeat(MILLION)};`,
  () => `MACRO ${'a'.repeat(4_000_000)}`,
  () => `"${'\\"'.repeat(MILLION)}`,
  () => '; '.repeat(MILLION),
  () => `PROPERTYDEFINITIONS ${'x '.repeat(MILLION)}`,
  () =>
    `MACRO a CLASS PAD ; SIZE 9 BY 9 ; PIN p PORT LAYER M ; RECT ITERATE 0 0 1 1 DO 100000 BY 100000 STEP 1 1 ; END END p END a`,
];

const placement: readonly (() => string)[] = [
  () => '\n'.repeat(MILLION),
  () => '['.repeat(MILLION),
  () => '{"a":'.repeat(MILLION),
  () => `[${'0,\n'.repeat(MILLION)}0]`,
  () => `{"format":"ringwright-placement","version":1,"cells":[${'{},\n'.repeat(MILLION)}{}]}`,
  () => `{"format":"ringwright-placement","version":1,"x":"${'\\u0000'.repeat(MILLION)}"}`,
  () => `{"format":"ringwright-placement",${'"a":1,\n'.repeat(MILLION)}"version":1}`,
  () => `{"format":"${'x'.repeat(8_000_000)}`,
  () => `${' '.repeat(MILLION)}{}`,
  () =>
    `{"format":"ringwright-placement","version":1,"__proto__":{"cells":[]},"constructor":{"prototype":{}}}`,
];

export const EXTREMES: Readonly<Record<Reader, readonly (() => string)[]>> = {
  ring: yaml,
  cells: [
    ...yaml,
    () =>
      `name: x\ncells:\n${Array.from({ length: 15_000 }, (_, i) => `  c${i}: {role: filler, width: 1, height: 9}\n`).join('')}`,
  ],
  table,
  lef,
  placement,
};
