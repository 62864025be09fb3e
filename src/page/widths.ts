/** How wide texts are in the overlay's letters. */

export function widthsOf(home: SVGSVGElement): (text: string) => number {
  const known = new Map<string, number>();
  const pen = document.createElement('canvas').getContext('2d');
  if (pen !== null) pen.font = getComputedStyle(home).font;
  return (text) => {
    const before = known.get(text);
    if (before !== undefined) return before;
    const width = pen?.measureText(text).width ?? text.length * 8;
    known.set(text, width);
    return width;
  };
}
