/** The page's head: what ring this is and how it stands. */
import { el, part } from './dom.ts';
import type { Model } from './model.ts';
import { counted, exact, um } from './numbers.ts';

export function showHead({ placement }: Model): void {
  const { die, bondPads, sides, findings } = placement;
  document.title = `${placement.ring}: ring report`;
  part('ring-name', HTMLElement).textContent = placement.ring;
  const standing = findings.filter(({ waived }) => waived === undefined);
  const count = (severity: string): number =>
    standing.filter((finding) => finding.severity === severity).length;
  const [errors, warnings, notes] = [count('error'), count('warning'), count('note')];
  const waived = findings.length - standing.length;
  const parts = [
    errors > 0 ? counted(errors, 'error') : 'no errors',
    ...(warnings > 0 ? [counted(warnings, 'warning')] : []),
    ...(notes > 0 ? [counted(notes, 'note')] : []),
    ...(waived > 0 ? [`${waived} waived`] : []),
  ];
  const verdict = part('verdict', HTMLElement);
  verdict.textContent = parts.join(', ');
  verdict.className = errors > 0 ? 'verdict bad' : 'verdict good';
  const styles = [...new Set(sides.filter((side) => side.bondPads > 0).map(({ style }) => style))];
  const facts: readonly (readonly [string, string])[] = [
    ['Die', `${exact(die.width)} × ${um(die.height)}`],
    ['Bond pads', String(bondPads.length)],
    ['Style', styles.join(', ') || 'none'],
    ['Arcs', String(placement.rails.length)],
  ];
  part('facts', HTMLElement).replaceChildren(
    ...facts.map(([name, value]) => el('div', {}, el('dt', {}, name), el('dd', {}, value))),
  );
}
