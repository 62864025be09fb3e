/** The lists beside the drawing: pads, supplies, rails with sections, findings. */
import { el } from './dom.ts';
import { type Model, thingsNamed } from './model.ts';
import { exact } from './numbers.ts';
import { type Choose, type Row, thingTable } from './table.ts';

const none = (text: string): HTMLElement => el('p', { class: 'none' }, text);

export function padList({ placement }: Model, choose: Choose): HTMLElement {
  const rows = placement.bondPads.map(
    (pad): Row => ({
      thing: { kind: 'pad', number: pad.number },
      cells: [
        String(pad.number),
        pad.pin,
        pad.net,
        pad.row === 'single' ? pad.side : `${pad.side}, ${pad.row}`,
        String(exact(pad.x)),
        String(exact(pad.y)),
      ],
    }),
  );
  if (rows.length === 0) return none('The ring has no bond pads.');
  const heads = ['Pad', 'Pin', 'Net', 'Side', 'x, µm', 'y, µm'];
  return thingTable(
    { caption: 'Bond pads, in the order of their numbers', heads, numbers: [0, 4, 5], spare: [4, 5] },
    rows,
    choose,
  );
}

/** Supply and ground nets, each with the cells that bring it in. */
export function supplyList(model: Model, choose: Choose): HTMLElement {
  const { placement, kinds } = model;
  const nets = placement.nets.filter(({ kind }) => kind !== 'signal');
  const counts = new Map(
    nets.map(({ name }) => [name, new Set((model.padsOfNet.get(name) ?? []).map(({ cell }) => cell)).size]),
  );
  const netRows = nets.map(
    ({ name, kind }): Row => ({
      thing: { kind: 'net', name },
      cells: [
        name,
        kind,
        String(counts.get(name) ?? 0),
        String(placement.rails.filter(({ net }) => net === name).length),
      ],
    }),
  );
  const pads = placement.bondPads.filter(({ net }) => kinds.get(net) !== 'signal' && kinds.has(net));
  const padRows = pads.map(
    (pad): Row => ({
      thing: { kind: 'pad', number: pad.number },
      cells: [
        String(pad.number),
        pad.pin,
        pad.net,
        pad.side,
        placement.rails
          .flatMap(({ lane, supplies }) => (supplies.includes(pad.cell) ? [lane] : []))
          .filter((lane, i, all) => all.indexOf(lane) === i)
          .join(', ') || 'no rail',
      ],
    }),
  );
  if (netRows.length === 0) return none('The ring has no supply or ground net.');
  return el(
    'div',
    {},
    thingTable(
      { caption: 'Supply and ground nets', heads: ['Net', 'Kind', 'Cells', 'Arcs'], numbers: [2, 3] },
      netRows,
      choose,
    ),
    thingTable(
      { caption: 'Supply and ground pads', heads: ['Pad', 'Pin', 'Net', 'Side', 'Feeds'], numbers: [0] },
      padRows,
      choose,
    ),
  );
}

export function railList({ placement }: Model, choose: Choose): HTMLElement {
  const rails = placement.rails.map(
    (rail, at): Row => ({
      thing: { kind: 'rail', at },
      cells: [
        rail.lane,
        rail.net,
        rail.closed ? 'closed' : 'open',
        String(rail.cells),
        String(rail.supplies.length),
      ],
    }),
  );
  const sections = placement.sections.map(
    ({ name, lanes }): Row => ({
      thing: { kind: 'section', name },
      cells: [
        name,
        String(placement.cells.filter((cell) => cell.section === name && cell.role !== 'filler').length),
        [...new Set(Object.values(lanes))].join(', '),
      ],
    }),
  );
  return el(
    'div',
    {},
    rails.length === 0
      ? none('The ring has no rails.')
      : thingTable(
          {
            caption: 'Rails, an arc a row',
            heads: ['Lane', 'Net', 'Run', 'Cells', 'Fed by'],
            numbers: [3, 4],
          },
          rails,
          choose,
        ),
    sections.length === 0
      ? undefined
      : thingTable(
          { caption: 'Sections', heads: ['Section', 'Cells', 'Nets'], numbers: [1] },
          sections,
          choose,
        ),
  );
}

export function findingList(model: Model, choose: Choose): HTMLElement {
  if (model.findings.length === 0) return none('No findings: the ring keeps the rules that were checked.');
  const rows = model.findings.map(({ number, finding }): Row => {
    const { severity, waived, message, rule, x, items } = finding;
    const placed = x !== undefined || thingsNamed(model, items).length > 0;
    const grave = waived === undefined ? severity : `${severity}, waived`;
    return {
      thing: { kind: 'finding', number },
      cells: [
        String(number),
        el('span', { class: `severity ${waived === undefined ? severity : 'waived'}` }, grave),
        el(
          'span',
          {},
          message,
          el(
            'small',
            {},
            ` ${rule}${placed ? '' : ', no place'}${waived === undefined ? '' : `, waived: ${waived}`}`,
          ),
        ),
      ],
    };
  });
  return thingTable(
    { caption: 'Findings, the gravest first', heads: ['No.', 'Severity', 'What'], numbers: [0] },
    rows,
    choose,
  );
}
