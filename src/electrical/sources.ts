/** Where the formulas come from, as figures name it. */
export const SOURCES = {
  given: 'given',
  wire: 'MIL-PRF-38535, appendix A, A.3.5.5.3',
  edge: 'Johnson and Graham, High-Speed Digital Design (from memory)',
  shape: 'greatest curvature of the edge',
  inductance: 'Rosa, Bulletin of the Bureau of Standards 4, 1908',
  coupled: "Rosa 1908; Neumann's integral where wires fan out",
  body: 'ANSI/ESDA/JEDEC JS-001',
  strip: 'sheet resistance times squares; a corner by conformal map',
  rail: "Kirchhoff's laws, solved exactly",
  common: 'common practice, no source',
  charge: 'Q = C V',
} as const;
