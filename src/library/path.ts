/** File names as texts: the library itself reaches no file system. */

const isWhole = (name: string): boolean => /^([/\\]|[A-Za-z]:)/.test(name);

/** The parts of a name, `.` and what `..` takes back left out. */
function partsOf(name: string): readonly string[] {
  const parts: string[] = [];
  for (const part of name.split(/[/\\]/)) {
    if (part === '.' || (part === '' && parts.length > 0)) continue;
    const last = parts.at(-1);
    if (part === '..' && last !== undefined && last !== '..' && last !== '') parts.pop();
    else parts.push(part);
  }
  return parts;
}

/** A file named from beside another one: `a/b/cells.yaml` and `../x.lef` make `a/x.lef`. */
export const beside = (path: string, name: string): string =>
  isWhole(name) ? name : partsOf(`${path.replace(/[^/\\]*$/, '')}${name}`).join('/') || '.';

/** How a file is named from beside another one, the reverse of {@link beside}: `a/b/cells.yaml` and `a/x.lef` make `../x.lef`. */
export function namedBeside(path: string, name: string): string {
  if (isWhole(path) !== isWhole(name)) return name;
  const from = partsOf(path).slice(0, -1);
  const to = partsOf(name);
  let shared = 0;
  while (shared < from.length && shared < to.length - 1 && from[shared] === to[shared]) shared++;
  // Out of a folder above the starting one there is no way back by name.
  if (from.slice(shared).includes('..')) return name;
  return [...from.slice(shared).map(() => '..'), ...to.slice(shared)].join('/');
}
