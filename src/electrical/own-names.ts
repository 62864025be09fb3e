/**
 * A placement whose records hold what they list and nothing else: a net, section or lane may bear a name that every
 * object of the language answers to, such as `constructor`.
 */
import type { Placement } from '../format/placement.ts';

function bare<T>(record: Readonly<Record<string, T>>): Readonly<Record<string, T>> {
  const own: Record<string, T> = Object.create(null);
  return Object.assign(own, record);
}

export function withOwnNames(placement: Placement): Placement {
  const { rules, sections } = placement;
  const { electrical } = rules;
  if (electrical === undefined) return placement;
  const { core, noise, drop } = electrical;
  const safe = { ...electrical, core: bare(core), noise: bare(noise), drop: bare(drop) };
  return {
    ...placement,
    rules: { ...rules, electrical: safe },
    sections: sections.map((section) => ({ ...section, lanes: bare(section.lanes) })),
  };
}
