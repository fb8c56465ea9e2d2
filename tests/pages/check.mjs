// Opens each page that is given in Debian's Chromium, and prints its problems. At first it opens pages with
// planted problems, and each must be found. With LOOK=folder, pictures and PDFs are kept in that folder.

import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { chromium } from 'playwright-core';
import { problemsOf } from './checks.mjs';
import { GOOD, PLANTED } from './planted.mjs';

const files = process.argv.slice(2);
if (files.length === 0) throw new Error('no page is given');
const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
  args: ['--disable-gpu', '--disable-quic', '--disable-background-networking', '--disable-component-update',
    '--disable-sync'],
});
const folder = mkdtempSync(join(tmpdir(), 'pages-'));
let failed = 0;
const fail = (...lines) => { failed += 1; lines.forEach((line) => console.log(line)); };
try {
  const context = await browser.newContext();
  for (const [name, html, check] of [['good', GOOD], ...PLANTED]) {
    const file = join(folder, `${name}.html`);
    writeFileSync(file, html);
    const problems = await problemsOf(context, pathToFileURL(file).href, { only: check });
    const found = check ? problems.some((one) => new RegExp(check).test(one)) : problems.length === 0;
    if (!found) fail(`The planted page “${name}” should have ${check ?? 'no problem'}, and has:`, ...problems);
  }
  for (const file of files) {
    const problems = await problemsOf(context, pathToFileURL(resolve(file)).href, { look: process.env.LOOK });
    console.log(`${file}: ${problems.length === 0 ? 'no problem' : problems.length}`);
    if (problems.length > 0) fail(...problems.map((one) => `  ${one}`));
  }
} finally {
  await browser.close();
  rmSync(folder, { recursive: true });
}
console.log(`${PLANTED.length} planted problems and ${files.length} pages: ${failed} failed`);
process.exit(failed === 0 ? 0 : 1);
