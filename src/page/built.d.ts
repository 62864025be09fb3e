/** The page's code, style and frame as texts; `src/bundle.mjs` builds them from this folder into dist/. */
export const script: string;
export const style: string;
export const frame: string;
