/** The lanes of one cell, from the strips that LEF draws and what the cell file says of them. */
import type { Extent } from '../geometry/side.ts';
import { micrometres, type Units } from '../geometry/units.ts';
import { type Book, type Candidate, knowsLane, quoted, wrong } from './book.ts';
import {
  assumesJoined,
  isAmong,
  listedStrips,
  type OpenStrip,
  type Settling,
  settledLanes,
} from './cell-lanes.ts';
import type { FootprintLane } from './footprint.ts';
import type { LaneStrip } from './lane-names.ts';

/** The lanes with every strip settled; `drawn` is what LEF shows, null without LEF. */
export function lanesOf(
  book: Book,
  cell: Candidate,
  drawn: readonly LaneStrip[] | null,
  extent: Extent,
  corner: boolean,
): readonly FootprintLane[] {
  const settling = settlingOf(book, cell);
  const open = openStrips(book, cell, drawn);
  checkSelections(book, cell, open, settling);
  checkExtents(book, cell, open, corner && extent.width < extent.height ? extent.width : extent.height);
  return settledLanes(open, settling, book.lanes);
}

/** Whether the cell's stubs were taken as joined because nothing says so. */
export const takenAsJoined = (book: Book, cell: Candidate, drawn: readonly LaneStrip[] | null): boolean =>
  assumesJoined(openStrips(book, cell, drawn), settlingOf(book, cell));

function settlingOf({ file }: Book, { entry }: Candidate): Settling {
  const { stubs } = file.drawn;
  return {
    cuts: entry.cuts ?? [],
    joins: entry.joins ?? [],
    stubs: stubs === undefined ? undefined : stubs === 'joined' ? 'through' : 'cut',
  };
}

/** What `cuts` and `joins` name must be there, and no strip be both. */
function checkSelections(book: Book, cell: Candidate, open: readonly OpenStrip[], settling: Settling): void {
  for (const key of ['cuts', 'joins'] as const)
    settling[key].forEach((some, i) => {
      if (typeof some === 'string' && !knowsLane(book, cell, [key, i], some)) return;
      if (open.some((strip) => isAmong(strip, some))) return;
      wrong(book, cell, [key, i], {
        code: 'no-such-strip',
        message: `\`${quoted(cell.name)}\` has no strip that \`${key}\` names here`,
        mend: 'name a lane and a layer on which the cell has a strip, or leave it out',
      });
    });
  const { cuts, joins } = settling;
  const both = open.find(
    (strip) => cuts.some((some) => isAmong(strip, some)) && joins.some((some) => isAmong(strip, some)),
  );
  if (both)
    wrong(book, cell, ['joins'], {
      code: 'cut-and-joined',
      message: `\`${quoted(cell.name)}\`: a strip of \`${quoted(both.lane)}\` on ${quoted(both.layer)} is both cut and joined`,
      mend: 'leave it in `cuts` or in `joins`',
    });
}

/** A cell's strips: its own where the cell file lists them, else LEF's, else the library's. */
function openStrips(book: Book, cell: Candidate, drawn: readonly LaneStrip[] | null): readonly OpenStrip[] {
  const own = cell.entry.lanes ?? {};
  const lacks = cell.entry.lacks ?? [];
  return book.lanes.flatMap((lane) => {
    const listed = Object.hasOwn(own, lane) ? own[lane] : undefined;
    if (listed) return listedStrips(lane, listed);
    if (drawn)
      return drawn
        .filter((strip) => strip.lane === lane)
        .map(({ layer, from, to, edges, joined }): OpenStrip => {
          const carry = edges !== 'both' ? 'cut' : joined ? 'through' : 'stub';
          return { lane, layer, from, to, edges, carry };
        });
    const common = Object.hasOwn(book.file.lanes ?? {}, lane) ? book.file.lanes?.[lane]?.strips : undefined;
    return common && !lacks.includes(lane) ? listedStrips(lane, common) : [];
  });
}

function checkExtents(book: Book, cell: Candidate, strips: readonly OpenStrip[], depth: Units): void {
  for (const key of Object.keys(cell.entry.lanes ?? {})) knowsLane(book, cell, ['lanes', key], key);
  (cell.entry.lacks ?? []).forEach((lane, i) => {
    knowsLane(book, cell, ['lacks', i], lane);
  });
  const said = new Set<string>();
  const refuse = (strip: OpenStrip, code: string, what: string, mend: string): void => {
    if (said.has(`${code} ${strip.lane} ${strip.layer}`)) return;
    said.add(`${code} ${strip.lane} ${strip.layer}`);
    wrongStrip(book, cell, strip, { code, what, mend });
  };
  for (const strip of strips)
    if (strip.from >= strip.to || strip.to > depth)
      refuse(
        strip,
        'strip-extent',
        'does not lie inside the cell, from less to more',
        `write from and to, the smaller first, within the depth of \`${quoted(cell.name)}\`, ${micrometres(depth)} um`,
      );
  const sorted = strips.toSorted((a, b) =>
    a.layer < b.layer ? -1 : a.layer > b.layer ? 1 : a.from - b.from,
  );
  sorted.forEach((strip, i) => {
    const before = sorted[i - 1];
    if (!before || before.layer !== strip.layer || strip.from >= before.to) return;
    if (before.edges !== 'both' && strip.edges !== 'both' && before.edges !== strip.edges) return;
    refuse(
      strip,
      'strips-overlap',
      `overlaps one of \`${quoted(before.lane)}\``,
      `that one reaches to ${micrometres(before.to)} um; begin this one there, or put it on another layer`,
    );
  });
}

/** A problem of a strip, where it is written: for the library once, whichever cells have it. */
function wrongStrip(
  book: Book,
  cell: Candidate,
  strip: OpenStrip,
  said: { readonly code: string; readonly what: string; readonly mend: string },
): void {
  const { code, what, mend } = said;
  const { lane, layer } = strip;
  const message = `a strip of \`${quoted(lane)}\` on ${quoted(layer)} ${what}`;
  const common = cell.macro === undefined && !Object.hasOwn(cell.entry.lanes ?? {}, lane);
  if (!common) {
    const path = Object.hasOwn(cell.entry.lanes ?? {}, lane) ? ['lanes', lane, layer] : [];
    wrong(book, cell, path, { code, message: `\`${quoted(cell.name)}\`: ${message}`, mend });
    return;
  }
  const place = book.source.placeOfKey(['lanes', lane, 'strips', layer]);
  if (
    !book.problems.some(
      (one) => one.code === code && one.place?.line === place.line && one.place.column === place.column,
    )
  )
    book.problems.push({ code, message, mend, place });
}
