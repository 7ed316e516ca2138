/** Text for SVG and HTML. */
import { safeText } from './safe-text.ts';

/** @example escapeXml('a < b & "c"') //=> 'a &lt; b &amp; &quot;c&quot;' */
export function escapeXml(text: string): string {
  return safeText(text)
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;');
}
