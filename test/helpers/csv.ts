/** Tables as whoever reads them has to understand them. */

/** The name that a field was written from: the apostrophes that keep it from being run taken away. */
export const nameOfField = (field: string): string => field.replace(/(^|[;,|\t\r\n])'/g, '$1');
