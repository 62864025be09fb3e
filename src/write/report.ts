/**
 * `report.html`: the ring as one page that opens offline from disk. The page's own code is built beforehand; this puts
 * it together with the drawing and the placement. Names stand in it as data only: the placement in a block of JSON that
 * holds no markup, the drawing as escaped by its writer; and the page's security policy lets nothing run but the
 * code whose hash it names, and nothing be fetched.
 */
import { createHash } from 'node:crypto';
import { frame, script, style } from '#page';
import type { Placement } from '../format/placement.ts';
import { drawingStyle } from './report/colours.ts';
import { clean } from './text.ts';

const SLOT = '<!--ring-->';

/** The page of a placement, from the texts of its `placement.json` and `ring.svg`. */
export function reportHtml(placement: Placement, json: string, drawing: string): string {
  const data = `<script type="application/json" id="placement">${json.replace(/</g, '\\u003c')}</script>`;
  return page(
    escaped(`${clean(placement.ring)}: ring report`),
    "default-src 'none'; img-src data:",
    frame.replace(SLOT, () => inner(drawing)),
    data,
  );
}

/** The page of the live view: it fetches the ring from the program that serves it. */
export const livePage = (): string =>
  page('ring report', "default-src 'none'; img-src data:; connect-src 'self'", frame.replace(SLOT, ''), '');

function page(title: string, policy: string, body: string, data: string): string {
  const styles = `${style}\n${drawingStyle()}`;
  const rules = `${policy}; script-src ${hashOf(script)}; style-src ${hashOf(styles)}; base-uri 'none'; form-action 'none'`;
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${rules}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="referrer" content="no-referrer">
<link rel="icon" href="data:,">
<title>${title}</title>
<style>${styles}</style>
</head>
<body>
${body}
${data}
<script type="module">${script}</script>
</body>
</html>
`;
}

const hashOf = (text: string): string =>
  `'sha256-${createHash('sha256').update(text, 'utf8').digest('base64')}'`;

/** What stands in the drawing's root, without its title and description: a browser would show them at the pointer. */
const inner = (drawing: string): string =>
  drawing
    .slice(drawing.indexOf('>', drawing.indexOf('<svg')) + 1, drawing.lastIndexOf('</svg>'))
    .replace(/<(title|desc)[^>]*>[^<]*<\/\1>/g, '');

const escaped = (text: string): string =>
  text.replace(/&/g, '&amp;').replace(/</g, '&lt;').replace(/>/g, '&gt;').replace(/"/g, '&quot;');
