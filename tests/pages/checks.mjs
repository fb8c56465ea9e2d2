// All checks of one page. Each problem begins with the name of its check.

import { execFileSync } from 'node:child_process';
import { mkdirSync, writeFileSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import axe from 'axe-core';
import * as inPage from './in_page.mjs';

const WIDE = { width: 1280, height: 900 };
const NARROW = { width: 320, height: 800 };
const SCREENS = [
  { where: '1280 px, light', size: WIDE, colorScheme: 'light' },
  { where: '1280 px, dark', size: WIDE, colorScheme: 'dark' },
  { where: '320 px, light', size: NARROW, colorScheme: 'light' },
  { where: '320 px, dark', size: NARROW, colorScheme: 'dark' },
  { where: '320 px, forced colours', size: NARROW, colorScheme: 'light', forcedColors: 'active' },
];
// The height and width of the paper in millimetres. Other places for the ends of pages find more cuts.
const PAPERS = { A4: [210, 297], Letter: [215.9, 279.4], short: [210, 200] };
const MARGIN = 12;
// What must not be cut by the end of a page.
const UNITS = 'tr, figure, .strip, .card, .problem, .frame, section:has(> h3:first-child)';

// The rules of axe-core, also those that are off by default, but for those that its authors retired.
const RULES = Object.fromEntries(
  axe.getRules().filter((rule) => !rule.tags.includes('deprecated')).map((rule) => [rule.ruleId, { enabled: true }]),
);

// Returns the problems of a page. `only` is the beginning of the problem that is looked for: other checks, and
// other screens if it names one, are left out. With a folder, pictures of the page are kept there.
export async function problemsOf(context, url, { only, look } = {}) {
  const problems = [];
  const report = (check, found) => problems.push(...found.map((one) => `${check}: ${one}`));
  const run = async (check, question) => (!only || only.startsWith(`${check}: `)) && report(check, await question());
  const page = await context.newPage();
  page.on('request', (request) => request.url() === url || report('alone', [request.url()]));
  page.on('console', (message) => report('console', [message.text()]));
  page.on('pageerror', (error) => report('console', [String(error)]));
  page.on('dialog', (dialog) => { report('harmless', [dialog.message()]); dialog.dismiss(); });
  await page.goto(url);
  await run('harmless', () => page.evaluate(inPage.harmless));
  await page.evaluate(axe.source);
  for (const { where, size, ...media } of SCREENS) {
    if (only?.includes(' px') && !only.includes(where)) continue;
    await page.setViewportSize(size);
    await page.emulateMedia({ forcedColors: 'none', ...media });
    const ask = async (check, question) => run(check, async () => {
      const found = await question();
      return found.map((one) => `${where}: ${one}`);
    });
    await ask('axe', () => violations(page));
    await ask('pictures', () => page.evaluate(inPage.pictures));
    await ask('narrow', () => page.evaluate(inPage.narrow));
    await ask('whole', () => page.evaluate(inPage.whole));
    await ask('words', () => page.evaluate(inPage.inWords));
    await ask('order', () => page.evaluate(inPage.inOrder));
    await ask('dark', async () => inkProblems(await page.evaluate(inPage.brightness), media.colorScheme === 'dark'));
    if (look) await page.screenshot({ path: picture(look, url, `${where.replaceAll(/\W+/g, '_')}.png`), fullPage: true });
  }
  await page.emulateMedia({ colorScheme: 'light', forcedColors: 'none' });
  await run('keyboard', () => keyboard(page));
  await run('print', () => printed(page, url, look));
  await page.close();
  return problems;
}

async function violations(page) {
  const result = await page.evaluate((rules) => window.axe.run(document, { rules, resultTypes: ['violations'] }), RULES);
  // What is scrolled out of sight is seen on the wide screen, and pictures have a check of their own.
  const elsewhere = ['bgOverlap', 'imgNode', 'elmPartiallyObscured', 'shortTextContent'];
  const scrolled = (node) => node.any.every(({ data }) => elsewhere.includes(data?.messageKey));
  // A sign of a formula has no letter by which its colour could be measured. It has that of the text around it.
  const sign = (node) => node.html.startsWith('<mo') && node.any.every(({ data }) => data?.messageKey === 'nonBmp');
  const unsure = result.incomplete.filter(
    (rule) => rule.id.startsWith('color-contrast') && !rule.nodes.every((node) => scrolled(node) || sign(node)),
  );
  return [...result.violations, ...unsure].map((rule) => {
    const node = rule.nodes[0];
    return `${rule.id} (${rule.nodes.length}): ${node.html.slice(0, 120)} ${node.any[0]?.message ?? ''}`;
  });
}

function inkProblems({ text, paper }, dark) {
  const right = paper !== null && (dark ? paper < 0.25 && text > 0.7 : paper > 0.75 && text < 0.3);
  return right ? [] : [`the text has brightness ${text}, and the paper ${paper}`];
}

// The Tab key reaches everything in the order of the page, and shows where it is.
async function keyboard(page) {
  const { count, lost } = await page.evaluate(inPage.reachable);
  const problems = [...lost];
  const reached = [];
  for (let press = 0; press < 2 * count + 5 && reached.length < count; press += 1) {
    await page.keyboard.press('Tab');
    const { stop, seen, name } = await page.evaluate(inPage.focused);
    if (stop >= 0 && !reached.includes(stop)) reached.push(stop);
    if (stop >= 0 && !seen) problems.push(`the focus is not seen: ${name}`);
  }
  if (reached.length < count) problems.push(`${reached.length} of ${count} stops are reached`);
  if (reached.some((stop, index) => stop !== index)) problems.push(`the order of stops is ${reached}`);
  return problems;
}

async function printed(page, url, look) {
  const problems = [];
  await page.keyboard.press('Tab');
  await page.evaluate(() => document.querySelector('[tabindex="0"], a[href]')?.focus());
  await page.emulateMedia({ media: 'print', colorScheme: 'dark' });
  problems.push(...inkProblems(await page.evaluate(inPage.brightness), false).map((one) => `in dark, ${one}`));
  await page.emulateMedia({ media: 'print', colorScheme: 'light' });
  for (const [name, [width]] of Object.entries(PAPERS)) {
    await page.setViewportSize({ width: Math.floor(((width - 2 * MARGIN) / 25.4) * 96), height: 1000 });
    for (const question of [inPage.onPaper, inPage.whole, inPage.pictures]) {
      problems.push(...(await page.evaluate(question)).map((one) => `${name}: ${one}`));
    }
  }
  const pdf = ([width, height]) => page.pdf({ width: `${width}mm`, height: `${height}mm`, printBackground: true });
  if (look) {
    for (const name of ['A4', 'Letter']) writeFileSync(picture(look, url, `${name}.pdf`), await pdf(PAPERS[name]));
  }
  const names = await page.evaluate(inPage.markUnits, UNITS);
  for (const [name, size] of Object.entries(PAPERS)) {
    const pages = pagesOf(await pdf(size));
    problems.push(...cuts(pages, names).map((one) => `${name}: ${one}`));
  }
  return problems;
}

// The text of each page of a PDF.
function pagesOf(pdf) {
  const text = execFileSync('pdftotext', ['-raw', '-', '-'], { input: pdf, encoding: 'utf8' });
  return text.split('\f').slice(0, -1);
}

function cuts(pages, names) {
  const at = new Map();
  pages.forEach((text, page) => {
    for (const [mark] of text.matchAll(/~\d+[ab]~/g)) at.set(mark, page + 1);
  });
  const problems = names.flatMap((name, index) => {
    const [from, to] = ['a', 'b'].map((end) => at.get(`~${index + 1}${end}~`));
    if (from === undefined || to === undefined) return [`not printed: ${name}`];
    return from === to ? [] : [`on the pages ${from} and ${to}: ${name}`];
  });
  pages.forEach((text, page) => {
    if (!text.replace(/~\d+[ab]~/g, '').trim()) problems.push(`page ${page + 1} is empty`);
  });
  return problems;
}

function picture(folder, url, end) {
  mkdirSync(folder, { recursive: true });
  return join(folder, `${basename(dirname(url))}_${basename(url, '.html')}_${end}`);
}
