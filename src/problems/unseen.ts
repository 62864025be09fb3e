/** Signs in names that a reader cannot see, or cannot tell from others; the same for every file and every report. */
import { likeness } from './look-alikes.ts';

/** Control, bidirectional and zero-width signs, lone halves of a sign, and others that show as nothing. */
const UNSEEN = /[\p{Cc}\p{Cf}\p{Cs}\p{Zl}\p{Zp}\p{Default_Ignorable_Code_Point}\u2800]/gu;

/** These, and blanks other than the plain one. */
const NOT_IN_NAMES = /[\p{Cc}\p{Cf}\p{Cs}\p{Zl}\p{Zp}\p{Default_Ignorable_Code_Point}\u2800]|(?! )\p{Zs}/u;

/** A sign's number, as `U+200B`. */
const codePoint = (sign: string): string =>
  `U+${(sign.codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(4, '0')}`;

/** The first sign of a name that may not be in one, as `U+200B`; undefined where there is none. */
export function unseenIn(name: string): string | undefined {
  const sign = NOT_IN_NAMES.exec(name)?.[0];
  return sign === undefined ? undefined : codePoint(sign);
}

/** A text as one readable line: signs that cannot be seen, or that turn the line around, are written out. */
export const writtenOut = (text: string): string =>
  text.replace(UNSEEN, (sign) => `\\u{${sign.codePointAt(0)?.toString(16)}}`);

/** A name with every sign beyond the plain letters written out, so that two which look alike can be told apart. */
export const spelled = (name: string): string =>
  Array.from(name, (sign) => (/[ -~]/.test(sign) ? sign : `\\u{${sign.codePointAt(0)?.toString(16)}}`)).join(
    '',
  );

/** A value as JSON for a terminal: the same value, with such signs as escapes. */
export const jsonText = (value: unknown): string =>
  JSON.stringify(value, null, 2).replace(UNSEEN, (sign) =>
    sign === '\n'
      ? sign
      : Array.from(
          { length: sign.length },
          (_, i) => `\\u${sign.charCodeAt(i).toString(16).padStart(4, '0')}`,
        ).join(''),
  );

/** Pairs of different names that look alike, the later one second. */
export function alikeNames(names: Iterable<string>): readonly (readonly [string, string])[] {
  const first = new Map<string, string>();
  const pairs: [string, string][] = [];
  for (const name of new Set(names)) {
    const key = likeness(name);
    const before = first.get(key);
    if (before === undefined) first.set(key, name);
    else pairs.push([before, name]);
  }
  return pairs;
}
