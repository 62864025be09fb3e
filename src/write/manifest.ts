/** The manifest of an output folder: which files make up the set, and the hash and size of each. */
import { createHash } from 'node:crypto';
import { z } from 'zod';

export const MANIFEST = 'manifest.json';
const FORMAT = 'ringwright-manifest';
const VERSION = 1;

/** A file's text, or its bytes. */
export type Content = string | Uint8Array;

export interface Entry {
  readonly sha256: string;
  /** In bytes. */
  readonly size: number;
}

export type Entries = ReadonlyMap<string, Entry>;

const schema = z.object({
  format: z.literal(FORMAT),
  version: z.literal(VERSION),
  files: z.record(
    z.string(),
    z.object({ sha256: z.string().regex(/^[0-9a-f]{64}$/), size: z.int().nonnegative() }),
  ),
});

export const bytesOf = (content: Content): Uint8Array =>
  typeof content === 'string' ? Buffer.from(content, 'utf8') : content;

export const entryOf = (bytes: Uint8Array): Entry => ({
  sha256: createHash('sha256').update(bytes).digest('hex'),
  size: bytes.byteLength,
});

/** A name that can only mean a file of the folder itself, and none of its hidden ones. */
export const isPlainName = (name: string): boolean =>
  /^[A-Za-z0-9][A-Za-z0-9._-]{0,199}$/.test(name) && name !== MANIFEST;

export function manifestText(entries: Entries): string {
  const sorted = [...entries].sort(([a], [b]) => (a < b ? -1 : 1));
  return `${JSON.stringify({ format: FORMAT, version: VERSION, files: Object.fromEntries(sorted) }, null, 1)}\n`;
}

/** The entries of a manifest's text; undefined where it is none of ours. Names that lead elsewhere are left out. */
export function readManifest(text: string): Entries | undefined {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    return undefined;
  }
  const parsed = schema.safeParse(value);
  if (!parsed.success) return undefined;
  return new Map(Object.entries(parsed.data.files).filter(([name]) => isPlainName(name)));
}

/** Whether a file of the manifest's name is somebody else's: JSON of another format. */
export function isForeign(text: string | undefined): boolean {
  if (text === undefined) return false;
  try {
    const value: unknown = JSON.parse(text);
    return typeof value !== 'object' || value === null || !('format' in value) || value.format !== FORMAT;
  } catch {
    return false;
  }
}
