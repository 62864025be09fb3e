/** What a rule says about one place, and what a rule is. */
import type { Finding } from '../format/placement.ts';
import type { View } from './view.ts';

/** A rule's complaint; the judge adds the rule's name and severity. */
export interface Hit {
  /** What is wrong, as one sentence without a final stop. */
  readonly message: string;
  /** What it is about, at least one name: of cells, pins, sections, lanes, nets, sides, footprints or fields. */
  readonly items: readonly string[];
  /** Where to look, in units; left out where it is nowhere in particular. */
  readonly at?: { readonly x: number; readonly y: number };
}

export type Severity = Finding['severity'];

/** What the rules of another station complain of, for the judge to apply severities and waivers to. */
export interface Judged {
  readonly rule: Omit<Rule, 'run'>;
  readonly hits: readonly Hit[];
}

export interface Rule {
  /** Stable: waivers and severities in ring descriptions speak of it. */
  readonly name: string;
  /** Unless the placement's rules set another. */
  readonly severity: Severity;
  /** One sentence on what it protects. */
  readonly protects: string;
  /** One sentence on how to mend it. */
  readonly mend: string;
  readonly run: (view: View) => readonly Hit[];
}
