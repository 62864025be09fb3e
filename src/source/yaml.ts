/** Reading YAML as plain data whose every value knows its line, safe against any text. */
import {
  type Alias,
  Composer,
  type CST,
  type Document,
  isAlias,
  isMap,
  isScalar,
  isSeq,
  Lexer,
  type Node,
  type ParsedNode,
  Parser,
  type YAMLMap,
} from 'yaml';
import { failed, found, type Outcome, type Place, type Problem } from '../problems/problem.ts';
import { capped, LIMITS, plainText } from './limits.ts';
import { type Lines, linesOf } from './lines.ts';
import { type Path, type Source, shortText } from './source.ts';
import { causes, syntaxProblems } from './yaml-syntax.ts';

/** Errors of syntax that are listed: further ones mostly follow from the first, or the text is no YAML at all. */
const SYNTAX = 6;

type Parsed = Document.Parsed<ParsedNode, true>;

/**
 * A text in YAML 1.2 to plain data with places. Refused with all problems at once: wrong syntax, a key twice, several
 * documents, tags, keys that mean something to JavaScript, and what goes over a limit. Never throws.
 */
export function readYaml(text: string, file: string): Outcome<Source> {
  const plain = plainText(text, file);
  if (!plain.ok) return plain;
  const lines = linesOf(plain.value, file);
  try {
    const tokens = tokensOf(plain.value, lines);
    return tokens.ok ? fromTokens(tokens.value, plain.value.length, file, lines) : tokens;
  } catch {
    // The library answers wrong syntax with errors, not exceptions; should it throw, the text is at fault all the same.
    return failed({
      code: 'yaml-syntax',
      message: 'the file cannot be read as YAML',
      mend: 'save a ring description or cell file as plain text',
      place: lines(0),
    });
  }
}

/** The syntax tree, built sign by sign so that its size and depth are held while it grows. */
function tokensOf(text: string, lines: Lines): Outcome<readonly CST.Token[]> {
  const parser = new Parser();
  const tokens: CST.Token[] = [];
  let [words, escapes] = [0, 0];
  for (const word of new Lexer().lex(text)) {
    const { offset } = parser;
    // Each wrong escape costs the library an error object, so a text of nothing else must not get through.
    if (word.startsWith('"')) escapes += word.split('\\', LIMITS.escapes + 1).length - 1;
    if (escapes >= LIMITS.escapes)
      return failed({
        code: 'too-many-values',
        message: `the file has more than ${LIMITS.escapes} backslashes in quotes, which is more than is read`,
        mend: 'write the texts in single quotes, or with a plain slash',
        place: lines(offset),
      });
    for (const token of parser.next(word)) tokens.push(token);
    // A document and its first collection take two places of the stack, and a map's value two a level.
    if (parser.stack.length > LIMITS.depth + 2) return failed(tooDeep(lines(offset)));
    if (++words > LIMITS.words)
      return failed({
        code: 'too-many-values',
        message: `the file has more than ${LIMITS.words} words and signs, which is more than is read`,
        mend: 'leave out blank lines and comments, or give the pins as a CSV file',
        place: lines(offset),
      });
  }
  for (const token of parser.end()) tokens.push(token);
  return found(tokens);
}

function fromTokens(tokens: readonly CST.Token[], end: number, file: string, lines: Lines): Outcome<Source> {
  const documents: Parsed[] = [];
  // Keys given twice are found below: the library compares each with each.
  const composer = new Composer<ParsedNode, true>({ uniqueKeys: false, prettyErrors: false });
  for (const document of composer.compose(tokens, true, end)) {
    documents.push(document);
    if (documents.length > 1) break;
  }
  const [first, second] = documents;
  const errors = causes([...(first?.errors ?? []), ...(first?.warnings ?? [])]);
  const problems: Problem[] = [...syntaxProblems(errors.slice(0, SYNTAX), tokens, lines)];
  const next = errors[SYNTAX];
  if (next !== undefined)
    problems.push({
      code: 'more-problems',
      message: `${errors.length - SYNTAX} further errors of syntax, which may follow from these, are not listed`,
      place: lines(next.pos[0]),
    });
  if (first && second)
    problems.push({
      code: 'several-documents',
      message: 'the file holds more than one document',
      mend: 'write one document a file, without `---` between its parts',
      place: lines(second.range[0]),
    });
  const { version, explicit } = first?.directives.yaml ?? { version: '1.2', explicit: false };
  if (explicit && version !== '1.2')
    problems.push({
      code: 'yaml-version',
      message: `the file asks for YAML ${version}; YAML 1.2 is read`,
      mend: 'leave the `%YAML` line out',
      place: lines(0),
    });
  if (problems.length > 0 || !first) return failed(...capped(problems));
  const walk: Walk = { lines, problems, anchors: new Map(), targets: new Map(), open: new Set(), values: 0 };
  const value = first.contents === null ? null : plainValue(walk, first.contents, 0);
  if (problems.length > 0) return failed(...capped(problems));
  return found({ file, value, ...placesIn(first.contents, walk.targets, lines) });
}

interface Walk {
  readonly lines: Lines;
  readonly problems: Problem[];
  readonly anchors: Map<string, Node>;
  /** What each alias stands for. */
  readonly targets: Map<Alias, Node>;
  /** The nodes around the present one. */
  readonly open: Set<Node>;
  values: number;
}

/** Keys that reach an object's machinery instead of its content. */
const UNSAFE = new Set(['__proto__', 'constructor', 'prototype']);

/** Tags of what is plain data without one as well. */
const PLAIN_TAG = /^tag:yaml\.org,2002:(str|int|float|bool|null|seq|map)$/;

/** A node as plain data; what stands against it is added to the walk's problems. */
function plainValue(walk: Walk, node: Node, depth: number): unknown {
  const place = (): Place => walk.lines(node.range?.[0] ?? 0);
  if (++walk.values > LIMITS.values) {
    if (walk.values === LIMITS.values + 1)
      walk.problems.push({
        code: 'too-many-values',
        message: `the file holds more than ${LIMITS.values} values once its aliases are written out`,
        mend: 'write out fewer values, or leave the aliases within each other out',
        place: place(),
      });
    return null;
  }
  if (depth > LIMITS.depth) {
    walk.problems.push(tooDeep(place()));
    return null;
  }
  if (isAlias(node)) return aliasValue(walk, node, depth, place);
  if (node.tag !== undefined && !PLAIN_TAG.test(node.tag)) {
    walk.problems.push({
      code: 'yaml-tag',
      message: `the tag \`${shortText(node.tag, 40)}\` has no meaning here`,
      mend: 'leave the tag out',
      place: place(),
    });
    return null;
  }
  if ((isScalar(node) || isMap(node) || isSeq(node)) && node.anchor) walk.anchors.set(node.anchor, node);
  if (isScalar(node)) return node.value ?? null;
  walk.open.add(node);
  const value = isMap(node)
    ? mapValue(walk, node, depth)
    : isSeq(node)
      ? node.items.map((item) => plainValue(walk, item as Node, depth + 1))
      : null;
  walk.open.delete(node);
  return value;
}

function aliasValue(walk: Walk, alias: Alias, depth: number, place: () => Place): unknown {
  const target = walk.anchors.get(alias.source);
  if (target && !walk.open.has(target)) {
    walk.targets.set(alias, target);
    return plainValue(walk, target, depth + 1);
  }
  const name = shortText(alias.source, 40);
  walk.problems.push({
    code: 'yaml-alias',
    message: target ? `\`*${name}\` stands inside what it repeats` : `nothing above is named \`&${name}\``,
    mend: target
      ? 'write the value out instead'
      : `name the value that it repeats with \`&${name}\` before it, or put the text in quotes if the asterisk belongs to it`,
    place: place(),
  });
  return null;
}

function mapValue(walk: Walk, map: YAMLMap, depth: number): Record<string, unknown> {
  const value: Record<string, unknown> = Object.create(null);
  for (const pair of map.items) {
    const key = keyText(pair.key);
    const place = walk.lines((pair.key as Node | null)?.range?.[0] ?? map.range?.[0] ?? 0);
    if (key === undefined) {
      walk.problems.push({
        code: 'yaml-key',
        message: 'a key must be a word, a text or a number',
        mend: 'write a word before the colon',
        place,
      });
      continue;
    }
    const name = shortText(key, 60);
    if (UNSAFE.has(key)) {
      walk.problems.push({
        code: 'unsafe-key',
        message: `\`${name}\` cannot be used as a name`,
        mend: 'choose another name',
        place,
      });
      continue;
    }
    if (key in value)
      walk.problems.push({
        code: 'duplicate-key',
        message: `\`${name}\` is given twice`,
        mend: 'leave one of the two',
        place,
      });
    value[key] = pair.value === null ? null : plainValue(walk, pair.value as Node, depth + 1);
  }
  return value;
}

/** A key's text as it was written, so that `007` stays what it is; undefined for a list, a map or nothing. */
function keyText(key: unknown): string | undefined {
  if (!isScalar(key) || key.value === null || key.value === undefined) return undefined;
  return typeof key.value === 'string' ? key.value : (key.source ?? String(key.value));
}

const tooDeep = (place: Place): Problem => ({
  code: 'too-deep',
  message: `lists and keys lie more than ${LIMITS.depth} levels within each other`,
  mend: 'no ring needs as many: look for brackets that are never closed',
  place,
});

/** Finds nodes by path; each map's keys are listed once, when first asked for. */
function placesIn(
  root: Node | null,
  targets: ReadonlyMap<Alias, Node>,
  lines: Lines,
): Pick<Source, 'placeOf' | 'placeOfKey'> {
  const indexes = new WeakMap<YAMLMap, Map<string, { key: Node; value: Node | null }>>();
  const indexOf = (map: YAMLMap): Map<string, { key: Node; value: Node | null }> => {
    let index = indexes.get(map);
    if (!index) {
      index = new Map();
      for (const pair of map.items)
        index.set(keyText(pair.key) ?? '', { key: pair.key as Node, value: pair.value as Node | null });
      indexes.set(map, index);
    }
    return index;
  };
  const find = (path: Path): { key: number; value: number } => {
    let node = root;
    let [key, value] = [node?.range?.[0] ?? 0, node?.range?.[0] ?? 0];
    for (const step of path) {
      if (isAlias(node)) node = targets.get(node) ?? null;
      if (isMap(node)) {
        const pair = indexOf(node).get(String(step));
        if (!pair) break;
        node = pair.value;
        key = pair.key.range?.[0] ?? key;
        value = node?.range?.[0] ?? key;
      } else if (isSeq(node)) {
        const item = node.items[Number(step)] as Node | undefined;
        if (!item) break;
        node = item;
        key = value = item.range?.[0] ?? value;
      } else break;
    }
    return { key, value };
  };
  return { placeOf: (path) => lines(find(path).value), placeOfKey: (path) => lines(find(path).key) };
}
