/**
 * Names that look alike and are not one. Source of the letters: the confusable signs of Unicode Technical Standard 39,
 * those of Greek and Cyrillic that most typefaces draw as Latin ones; from memory.
 */

/** The letters of another alphabet, and the Latin ones that they are drawn as. */
const DRAWN_AS: readonly (readonly [letters: string, latin: string])[] = [
  [
    '\u0391\u0392\u0395\u0396\u0397\u0399\u039a\u039c\u039d\u039f\u03a1\u03a4\u03a5\u03a7\u03bd\u03bf\u03c1\u03f2\u03f3',
    'ABEZHIKMNOPTYXvopcj',
  ],
  [
    '\u0410\u0412\u0415\u0405\u0406\u0408\u041a\u041c\u041d\u041e\u0420\u0421\u0422\u0423\u0425\u0430\u0435\u043e\u0440\u0441\u0443\u0445\u0455\u0456\u0458\u04bb\u0501\u051b\u051d\u04cf\u04ae',
    'ABESIJKMHOPCTYXaeopcyxsijhdqwlY',
  ],
];

const LATIN: ReadonlyMap<string, string> = new Map(
  DRAWN_AS.flatMap(([letters, latin]) =>
    Array.from(letters, (letter, i) => [letter, latin.charAt(i)] as const),
  ),
);

/**
 * What names share that look alike: letters may be composed of several signs, have a wide or a small form, or be of
 * another alphabet.
 */
export const likeness = (name: string): string =>
  Array.from(name.normalize('NFKC'), (sign) => LATIN.get(sign) ?? sign).join('');
