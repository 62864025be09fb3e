/** The figures of an assessment in one list, each with what it is of and the limit that it is held to. */
import { type Figure, figure, input, isAssessed, notAssessed } from '../figures/figure.ts';
import type { ElectricalSummary } from '../format/placement.ts';
import { arcName, cellName } from './arcs.ts';
import type { Assessment } from './assess.ts';
import { decouplingOf } from './decoupling.ts';
import { dischargeEntries } from './discharge-figures.ts';
import { budgetFigure, type Entry } from './entry.ts';
import { worstLoop } from './loops.ts';
import { mostLoaded, oneMore } from './rails.ts';
import { SOURCES } from './sources.ts';
import { mostLoadedStem } from './stems.ts';

/** All figures but the counts. */
export function entriesOf(a: Assessment): readonly Entry[] {
  return [
    ...noiseEntries(a),
    ...loopEntries(a),
    ...railEntries(a),
    ...stemEntries(a),
    ...dischargeEntries(a),
    ...stripEntries(a),
    ...decouplingEntries(a),
  ];
}

function noiseEntries({ supplies }: Assessment): readonly Entry[] {
  return supplies.map(({ group, noise, budget }) => ({
    what: 'switching noise',
    of: group.name,
    figure: noise,
    limit: budget,
  }));
}

function loopEntries({ groups, bonding, placement }: Assessment): readonly Entry[] {
  const pairs = placement.sections.flatMap(({ lanes, pairs }) =>
    pairs.map(({ supply, ground }) => [lanes[supply], lanes[ground]] as const),
  );
  return groups
    .filter(({ kind }) => kind === 'supply')
    .map((supply) => {
      const nets = new Set(pairs.filter(([net]) => net === supply.net).map(([, ground]) => ground));
      const grounds = groups.filter(({ net }) => nets.has(net));
      return { what: 'loop', of: supply.name, figure: worstLoop(supply, grounds, bonding), limit: null };
    });
}

function railEntries(a: Assessment): readonly Entry[] {
  return a.arcs.flatMap((loaded, i): readonly Entry[] => {
    const solved = a.rails[i];
    const of = arcName(loaded.arc);
    const budget = budgetFigure(a.rules.drop[loaded.arc.net], 'V', `a drop budget for ${loaded.arc.net}`);
    if (solved === undefined || 'missing' in solved) {
      const missing = notAssessed(solved?.missing ?? 'the rail');
      return [
        { what: 'rail drop', of, figure: missing, limit: budget },
        { what: 'rail current', of, figure: missing, limit: null },
      ];
    }
    const name = (at: number): string => cellName(loaded.arc, at);
    const total = solved.network.draw.reduce((sum, amperes) => sum + amperes, 0) * 1e3;
    const more = oneMore(loaded, solved);
    const load = mostLoaded(loaded, solved, a.rules.celsius, a.layers);
    return [
      {
        what: 'rail drop',
        of,
        figure: figure(
          solved.worst.drop,
          'V',
          `worst node of the arc, ${name(solved.worst.at)}`,
          [input('current', total, 'mA'), input('feeds', loaded.feeds.length, '')],
          SOURCES.rail,
        ),
        limit: budget,
      },
      {
        what: 'rail drop with one more supply',
        of,
        figure: figure(
          more.drop,
          'V',
          `worst node with one more supply at the best place, ${name(more.at)}`,
          [input('gain', solved.worst.drop - more.drop, 'V')],
          SOURCES.rail,
        ),
        limit: null,
      },
      'missing' in load
        ? { what: 'rail current', of, figure: notAssessed(load.missing), limit: null }
        : {
            what: 'rail current',
            of,
            figure: figure(
              (load.current * load.tightest.share) / load.tightest.width,
              'mA/um',
              `I share / width of ${load.tightest.layer}, ${name(load.at)}`,
              [
                input('I', load.current, 'mA'),
                input('share', load.tightest.share, ''),
                input('width', load.tightest.width, 'um'),
              ],
              SOURCES.rail,
            ),
            limit: limitFigure(load.tightest.limit, a.rules.celsius),
          },
    ];
  });
}

function limitFigure(
  { perMicrometre, celsius }: { readonly perMicrometre: number; readonly celsius: number | null },
  at: number | null,
): Figure {
  const inputs = [
    ...(at === null ? [] : [input('temperature', at, 'degC')]),
    ...(celsius === null ? [] : [input("the limit's temperature", celsius, 'degC')]),
  ];
  return figure(perMicrometre, 'mA/um', 'limit at the next hotter temperature given', inputs, SOURCES.given);
}

function stemEntries(a: Assessment): readonly Entry[] {
  const most = mostLoadedStem(a);
  if (most === undefined) return [];
  if ('missing' in most)
    return [{ what: 'stem current', of: 'supply cells', figure: notAssessed(most.missing), limit: null }];
  return [
    {
      what: 'stem current',
      of: most.cell,
      figure: figure(
        most.density,
        'mA/um',
        `I share / width of ${most.layer} in the stem`,
        [input('I', most.current, 'mA'), input('share', most.share, ''), input('width', most.width, 'um')],
        SOURCES.strip,
      ),
      limit: limitFigure(most.limit, a.rules.celsius),
    },
  ];
}

function stripEntries({ strips, rules }: Assessment): readonly Entry[] {
  if (strips === undefined) return [];
  return [
    ...strips.missing.map(({ net, missing }) => ({
      what: 'core strip current',
      of: net,
      figure: notAssessed(missing),
      limit: null,
    })),
    ...strips.figures.flatMap(({ net, most, width, current, limit, drop }): readonly Entry[] => [
      {
        what: 'core strip current',
        of: net,
        figure: figure(
          most / width,
          'mA/um',
          'largest current of the strip / width',
          [input('largest', most, 'mA'), input('width', width, 'um'), input('core', current, 'mA')],
          SOURCES.rail,
        ),
        limit: 'missing' in limit ? notAssessed(limit.missing) : limitFigure(limit, rules.celsius),
      },
      {
        what: 'core strip drop',
        of: net,
        figure:
          typeof drop === 'number'
            ? figure(drop, 'V', 'worst place of the strip', [input('core', current, 'mA')], SOURCES.rail)
            : notAssessed(drop.missing),
        limit: budgetFigure(rules.drop[net], 'V', `a drop budget for ${net}`),
      },
    ]),
  ];
}

function decouplingEntries({ groups, rules, loads }: Assessment): readonly Entry[] {
  if (rules.decoupling === null) return [];
  return groups
    .filter(({ kind }) => kind === 'supply')
    .flatMap((group): readonly Entry[] => {
      const pins = new Set(group.arcs.flatMap((arc) => arc.loads.map(({ load }) => load.pin)));
      const {
        charge,
        chip,
        package: inPackage,
      } = decouplingOf(rules, loads, (load) => pins.has(load.pin), group.name);
      if (!isAssessed(charge) && pins.size === 0) return [];
      return [
        { what: 'charge in one edge', of: group.name, figure: charge, limit: null },
        { what: 'decoupling on chip', of: group.name, figure: chip, limit: null },
        { what: 'decoupling in the package', of: group.name, figure: inPackage, limit: null },
      ];
    });
}

/** The part of the placement's summary that says all this. */
export function summaryOf(a: Assessment): ElectricalSummary {
  return {
    supplies: a.supplies.map(({ group, have, needed, decides, demands }) => ({
      net: group.net,
      kind: group.kind,
      lane: group.lane,
      sections: [...group.sections],
      have,
      needed,
      decides,
      demands: {
        current: demands.current,
        wire: demands.wire,
        noiseApart: demands.noiseApart,
        noise: demands.noise,
        discharge: demands.discharge,
      },
    })),
    figures: entriesOf(a).map(({ what, of, figure: value, limit }) => ({ what, of, figure: value, limit })),
  };
}
