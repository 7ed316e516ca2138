/** A real browser for what only a browser can say: whether drawn text stays in its box. */
import { execFileSync } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';

const BROWSER = '/usr/bin/chromium';
const FLAGS = [
  '--headless',
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];

/** Why a test of drawings cannot run here; null where it can. */
export const NO_BROWSER: string | null = existsSync(BROWSER)
  ? null
  : `there is no ${BROWSER} on this machine`;

/**
 * Opens a page and runs a function body in it; `result` is what it returns, through JSON.
 *
 * @param page HTML or SVG put into a page; a script is added at its end
 */
export function inBrowser(page: string, body: string, width = 1060): unknown {
  const folder = mkdtempSync(path.join(tmpdir(), 'holdfast-browser-'));
  try {
    const file = path.join(folder, 'page.html');
    const script = `<script>document.documentElement.dataset.result = encodeURIComponent(JSON.stringify((() => { ${body} })()))</script>`;
    writeFileSync(file, `${page}${script}`);
    const dom = execFileSync(
      BROWSER,
      [
        ...FLAGS,
        `--user-data-dir=${path.join(folder, 'profile')}`,
        `--window-size=${width},1400`,
        '--dump-dom',
        `file://${file}`,
      ],
      { encoding: 'utf8', stdio: ['ignore', 'pipe', 'ignore'], maxBuffer: 1 << 26, timeout: 60_000 },
    );
    const found = /data-result="([^"]*)"/.exec(dom)?.[1];
    if (found === undefined) throw new Error('the page did not answer');
    return JSON.parse(decodeURIComponent(found));
  } finally {
    rmSync(folder, { recursive: true, force: true, maxRetries: 5 });
  }
}
