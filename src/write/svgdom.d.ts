/** svgdom publishes no types; this is the one function of it that the drawings use. */
declare module 'svgdom' {
  export function createSVGWindow(): object;
}
