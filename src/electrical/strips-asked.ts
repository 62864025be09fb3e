/** The core strips of a placement against those that are asked for: one a net, on their layer, in their order. */
import type { CoreStrip, ElectricalRules, Placement } from '../format/placement.ts';
import type { ElectricalHit } from './rules.ts';
import { covers, middle, outerOf, pm } from './strip-boxes.ts';

export function askedHits(
  { nets, rules }: Placement,
  strips: readonly CoreStrip[],
  wanted: ElectricalRules['coreStrips'],
): readonly ElectricalHit[] {
  const hits: ElectricalHit[] = [];
  const say = (message: string, ...items: readonly string[]): void => {
    hits.push({ message, items });
  };
  const listed = new Set(nets.map((net) => net.name));
  const drawn = strips.map((strip) => strip.net);
  strips.forEach(({ net, layer, width }, i) => {
    if (!listed.has(net)) say(`a core strip is of net ${net}, which is not listed`, net);
    if (drawn.indexOf(net) < i) say(`net ${net} has two core strips`, net);
    const isAsked = wanted === null ? rules.electrical === undefined : wanted.nets.includes(net);
    if (!isAsked) say(`net ${net} has a core strip, and is to have none`, net);
    if (wanted === null) return;
    if (layer !== wanted.layer)
      say(`the core strip of ${net} is on ${layer}, and strips are asked for on ${wanted.layer}`, net);
    if (wanted.width !== null && pm(width) < pm(wanted.width))
      say(`the core strip of ${net} is ${width} um wide, and ${wanted.width} um are asked for`, net);
  });
  for (const net of wanted?.nets ?? [])
    if (!drawn.includes(net)) say(`net ${net} is to have a core strip, and has none`, net);
  return [...hits, ...orderHits(strips, wanted)];
}

/** From the ring inward: each lies within the one before it, and they come in the order asked for. */
function orderHits(
  strips: readonly CoreStrip[],
  wanted: ElectricalRules['coreStrips'],
): readonly ElectricalHit[] {
  const hits: ElectricalHit[] = [];
  strips.forEach((inner, i) => {
    const before = strips[i - 1];
    if (before === undefined || before.net === inner.net) return;
    const [outerBox, innerBox] = [outerOf(before), outerOf(inner)];
    if (outerBox === undefined || innerBox === undefined || covers(outerBox, innerBox)) return;
    hits.push({
      message: `the core strip of ${inner.net} does not lie within that of ${before.net}, which is listed before it`,
      items: [before.net, inner.net],
      at: middle(innerBox),
    });
  });
  const asked = (wanted?.nets ?? []).filter((net) => strips.some((strip) => strip.net === net));
  const drawn = strips.map((strip) => strip.net).filter((net) => asked.includes(net));
  if (new Set(asked).size === drawn.length && asked.some((net, i) => net !== drawn[i]))
    hits.push({
      message: `the core strips are of ${drawn.join(', ')} from the ring inward, and ${asked.join(', ')} are asked for`,
      items: drawn,
    });
  return hits;
}
