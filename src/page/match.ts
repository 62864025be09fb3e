/** The search over pins, nets, cells, sections and pad numbers. */
import type { Model } from './model.ts';
import type { Thing } from './thing.ts';

export interface Hit {
  readonly thing: Thing;
  /** What was found, and what it is. */
  readonly name: string;
  readonly about: string;
}

interface Candidate extends Hit {
  readonly folded: string;
}

export type Index = readonly Candidate[];

const folded = (text: string): string => text.normalize('NFKC').toLowerCase();

/** Everything that has a name, pads first. Fillers are left out: nobody looks for one. */
export function indexOf({ placement }: Model): Index {
  const hits: Hit[] = [
    ...placement.bondPads.map((pad) => ({
      thing: { kind: 'pad', number: pad.number } as const,
      name: pad.pin,
      about: `pad ${pad.number}, ${pad.side} side`,
    })),
    ...placement.nets.map((net) => ({
      thing: { kind: 'net', name: net.name } as const,
      name: net.name,
      about: `${net.kind} net`,
    })),
    ...placement.sections.map(({ name }) => ({
      thing: { kind: 'section', name } as const,
      name,
      about: 'section',
    })),
    ...placement.cells
      .filter(({ role }) => role !== 'filler')
      .map((cell) => ({
        thing: { kind: 'cell', name: cell.name } as const,
        name: cell.name,
        about: `${cell.role} cell ${cell.footprint}`,
      })),
  ];
  return hits.map((hit) => ({ ...hit, folded: folded(hit.name) }));
}

/** What fits a text, the nearest first: the same name, then names that begin with it, then those that hold it. */
export function search(index: Index, text: string): readonly Hit[] {
  const wanted = folded(text.trim());
  if (wanted === '') return [];
  const number = /^\d+$/.test(wanted) ? Number(wanted) : undefined;
  const rank = ({ folded: name, thing }: Candidate): number => {
    if (name === wanted) return 0;
    if (thing.kind === 'pad' && thing.number === number) return 1;
    if (name.startsWith(wanted)) return 2;
    return name.includes(wanted) ? 3 : 4;
  };
  return index
    .map((candidate, i) => ({ candidate, i, rank: rank(candidate) }))
    .filter((one) => one.rank < 4)
    .sort((a, b) => a.rank - b.rank || a.i - b.i)
    .map(({ candidate }) => candidate);
}
