/** What a reader can still make out of a drawing's letters. */

/** Height of an x over the letter size in DejaVu Sans 2.37, read from its font file. */
export const X_HEIGHT = 0.547;
