/** What the live view sends to its page. */
import type { Placement } from '../format/placement.ts';

/** Something wrong in a file, with its place where it has one; lines and columns count from 1. */
export interface Complaint {
  readonly code: string;
  readonly message: string;
  readonly mend?: string;
  readonly place?: { readonly file: string; readonly line: number; readonly column: number };
}

export interface Payload {
  /** Grows with each change. */
  readonly version: number;
  /** Why the files as they are now give no ring; empty where they do. */
  readonly problems: readonly Complaint[];
  readonly notes: readonly Complaint[];
  /** The last ring that could be laid, with its drawing as the text of an SVG file; null before there is one. */
  readonly ring: { readonly placement: Placement; readonly drawing: string } | null;
}
