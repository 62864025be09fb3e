/** What the layout formats need to know beyond the placement: the layer map, and DEF's pad layer. */
import { z } from 'zod';

const about = (description: string): { description: string } => ({ description });

/** GDSII keeps both numbers in two bytes with a sign. */
const number = z.int().min(0).max(32_767);
const gdsLayer = z
  .strictObject({ layer: number.meta(about('layer number')), datatype: number.meta(about('datatype')) })
  .meta(about('a GDSII layer'));
const byName = z.record(z.string().min(1).max(200), gdsLayer);

export const layoutSchema = z.strictObject({
  gdsii: z
    .strictObject({
      bondPads: gdsLayer.optional().meta(about('metal of bond pads outside the cells')),
      openings: gdsLayer.optional().meta(about('their openings')),
      labels: gdsLayer.optional().meta(about('pin names')),
      die: gdsLayer.optional().meta(about("the die's outline; left out: not drawn")),
      cells: gdsLayer.optional().meta(about('outlines of the cells; left out: not drawn')),
      stems: byName.optional().meta(about('stems, by the name of their layer')),
      rails: byName.optional().meta(about('rails, by the name of their layer')),
      coreStrips: byName.optional().meta(about('core strips and straps, by the name of their layer')),
    })
    .optional()
    .meta(about('the GDSII layer of each purpose')),
  def: z
    .strictObject({
      padLayer: z.string().min(1).max(200).meta(about('the layer of the bond pads as DEF pins')),
    })
    .optional()
    .meta(about('what DEF needs beyond the placement')),
});

/** The layout formats' settings; without a format that reads them they change nothing but what `--write` writes. */
export type Layout = z.output<typeof layoutSchema>;
