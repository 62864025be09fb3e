/** A few of many names for a message. */

/** The first `most` of some names, and how many more there are. */
export function listed(names: readonly string[], most = 6): string {
  const shown = names.slice(0, most).join(', ');
  return names.length > most ? `${shown} and ${names.length - most} more` : shown;
}
