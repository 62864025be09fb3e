/** CSV lines as RFC 4180 has them, of which no name can become a formula in a spreadsheet. */

/**
 * Where a spreadsheet could take a name for a formula: at its start, and behind whatever a spreadsheet may be
 * set to split at, with or without a quotation mark before. The full-width signs are taken for the plain ones by
 * some.
 */
const SIGNS = '["=+\\-@\\t\\r\\n\'\uff1d\uff0b\uff0d\uff20]';
const AT_START = new RegExp(`^(?=${SIGNS})`);
const BEHIND = new RegExp(`([;,|\\t\\r\\n])(?=${SIGNS})`, 'g');
const PLAIN = /^[\w.:/<>[\]() -]*$/;

/** A name as a field: an apostrophe stands before what a spreadsheet could run, and quotes around what needs them. */
export function nameField(name: string): string {
  const safe = name.replace(BEHIND, "$1'").replace(AT_START, "'");
  return PLAIN.test(safe) && safe.trim() === safe ? safe : `"${safe.replaceAll('"', '""')}"`;
}

/** Records of finished fields, each ended by carriage return and line feed. */
export const csvText = (records: readonly (readonly string[])[]): string =>
  records.map((fields) => `${fields.join(',')}\r\n`).join('');
