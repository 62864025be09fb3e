/** The figures of discharge paths. */
import { figure, input, notAssessed } from '../figures/figure.ts';
import { padName } from './arcs.ts';
import type { Assessment } from './assess.ts';
import type { DischargePath } from './discharge.ts';
import { budgetFigure, type Entry } from './entry.ts';
import { SOURCES } from './sources.ts';

/** The worst of the searched paths by the rail's part, or by the whole. */
function worstPath(paths: readonly DischargePath[], by: 'rail' | 'total'): DischargePath | undefined {
  return paths.reduce<DischargePath | undefined>(
    (most, path) => (most === undefined || path[by] > most[by] ? path : most),
    undefined,
  );
}

const pathName = ({ from, to }: DischargePath): string =>
  `${padName(from.pad, from.cell)} to ${padName(to.pad, to.cell)}`;

/** Of discharge: the worst path by its rails, and the worst one in all. */
export function dischargeEntries(a: Assessment): readonly Entry[] {
  const { discharge, rules, arcs } = a;
  const railLimit = budgetFigure(
    rules.discharge?.rail ?? undefined,
    'V',
    'a budget for the drop along rails',
  );
  const pathLimit = budgetFigure(rules.discharge?.path ?? undefined, 'V', 'a budget for the whole path');
  if ('missing' in discharge) {
    const missing = notAssessed(discharge.missing);
    return [
      { what: 'discharge along rails', of: 'all pads', figure: missing, limit: railLimit },
      { what: 'discharge path', of: 'all pads', figure: missing, limit: pathLimit },
    ];
  }
  const level = input('level', rules.discharge?.level ?? 0, 'V');
  const searched = [
    level,
    input('pads searched from', discharge.sources, ''),
    input('pads', discharge.pads, ''),
  ];
  const rail = worstPath(discharge.worst, 'rail');
  const total = worstPath(discharge.worst, 'total');
  const nothing = notAssessed('two pads of unlike nets');
  const legs = (path: DischargePath) =>
    path.legs.map((leg) =>
      input(
        leg.arc === null ? `${leg.what} in ${leg.cell ?? ''}` : `rail ${arcs[leg.arc]?.arc.net ?? ''}`,
        leg.volts,
        'V',
      ),
    );
  return [
    {
      what: 'discharge along rails',
      of: rail === undefined ? 'all pads' : pathName(rail),
      figure:
        rail === undefined
          ? nothing
          : figure(
              rail.rail,
              'V',
              'V / 1500 ohm times the rails and stems of the path',
              [...searched, ...legs(rail)],
              SOURCES.body,
            ),
      limit: railLimit,
    },
    {
      what: 'discharge path',
      of: total === undefined ? 'all pads' : pathName(total),
      figure:
        total === undefined
          ? nothing
          : total.unknown.length > 0
            ? notAssessed(`the drop of the ${[...new Set(total.unknown)].join(' and of the ')}`)
            : figure(
                total.total,
                'V',
                'sum of what the path drops at V / 1500 ohm',
                [...searched, ...legs(total)],
                SOURCES.body,
              ),
      limit: pathLimit,
    },
  ];
}
