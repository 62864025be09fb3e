/** What a terminal tells of the wires as a whole. */
import type { Placement } from '../format/placement.ts';
import { counted, um } from './numbers.ts';
import { clean } from './text.ts';

const tenth = (value: number): string => um(Math.round(value * 10) / 10);

/** Sentences, to be folded by whoever prints them; none where there is no package. */
export function wireLines({ package: bonded, summary: { wires } }: Placement): readonly string[] {
  if (bonded === undefined || wires === undefined) return [];
  const { metal, diameter } = bonded.wires;
  const head = `wires ${wires.count} of ${metal}, ${um(diameter)} um, in package ${clean(bonded.name)}`;
  if (wires.span === null || wires.length === null || wires.angle === null) return [head];
  const crossing = wires.crossings === 0 ? 'none cross' : counted(wires.crossings, 'crossing');
  const aside = wires.towardFingers.map(
    ({ side, shared, placed, proven }) =>
      `${side} ${tenth(placed)} um (${tenth(shared)} shared${proven ? '' : '; nearer ones not ruled out'})`,
  );
  return [
    head,
    `      longest ${tenth(wires.span)} um in plan, ${tenth(wires.length)} um with its loop; worst angle ${tenth(wires.angle)} degrees; ${crossing}`,
    ...(aside.length === 0 ? [] : [`      aside of straight, root mean square: ${aside.join(', ')}`]),
  ];
}
