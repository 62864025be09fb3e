/** File names as texts: the library itself reaches no file system. */

/** A file named beside another one: `a/b/cells.yaml` and `../x.lef` make `a/x.lef`. */
export function beside(path: string, name: string): string {
  if (/^([/\\]|[A-Za-z]:)/.test(name)) return name;
  const folder = path.replace(/[^/\\]*$/, '');
  const parts: string[] = [];
  for (const part of `${folder}${name}`.split(/[/\\]/)) {
    if (part === '.' || (part === '' && parts.length > 0)) continue;
    const last = parts.at(-1);
    if (part === '..' && last !== undefined && last !== '..' && last !== '') parts.pop();
    else parts.push(part);
  }
  return parts.join('/');
}
