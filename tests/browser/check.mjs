// Opens every page that gramleaf made in headless Chromium and runs the Nu HTML checker over all of them.
// Usage: node check.mjs FOLDER        Environment: CHROMIUM, JAVA (paths; looked for where Debian puts them)
// Exit status: 0 nothing found, 1 something found, 2 a check could not run.

import { spawnSync } from 'node:child_process';
import { existsSync, readFileSync, readdirSync, statSync } from 'node:fs';
import { createRequire } from 'node:module';
import { availableParallelism } from 'node:os';
import { join, relative, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { chromium } from 'playwright-core';

const require = createRequire(import.meta.url);

// Messages of the HTML checker that are not faults of a page. Each needs its reason.
const EXCEPTIONS = [
  // The checker does not match the hash of a style sheet this long; a browser does, and would report a blocked style on its
  // console, which is a fault below.
  /^Inline style violates Content Security Policy/,];

// The rules of WCAG 2.2 AA that axe can check, and its own advice.
const RULES = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];

// The ways a reader may look at a page. A zoom of 200 % halves the room in CSS pixels and doubles their size.
const VIEWS = [
  { name: 'light', viewport: { width: 1280, height: 900 }, colorScheme: 'light' },
  { name: 'dark', viewport: { width: 1280, height: 900 }, colorScheme: 'dark' },
  { name: '320 px', viewport: { width: 320, height: 640 }, colorScheme: 'light' },
  { name: '320 px dark', viewport: { width: 320, height: 640 }, colorScheme: 'dark' },
  { name: 'zoom 200 %', viewport: { width: 640, height: 450 }, deviceScaleFactor: 2, colorScheme: 'light' },
  { name: 'no script', viewport: { width: 1280, height: 900 }, colorScheme: 'light', javaScriptEnabled: false },
];

// A report that needs more sheets than this has gone wrong; one sheet more or less between the papers is usual.
const MOST_SHEETS = 24;

const found = [];

/** Notes a fault of a page. */
function fault(page, view, text) {
  found.push(`${page} [${view}]: ${text}`);
}

/** Stops: a check that cannot run must not look like one that found nothing. */
function cannotRun(text) {
  console.error(`cannot run: ${text}`);
  process.exit(2);
}

/** All HTML files below a folder, in order of name. */
function pagesBelow(folder) {
  return readdirSync(folder)
    .sort()
    .flatMap((name) => {
      const path = join(folder, name);
      if (statSync(path).isDirectory()) return pagesBelow(path);
      return name.endsWith('.html') ? [path] : [];
    });
}

/** The Nu HTML checker, once for all files: errors and warnings are faults. */
function checkMarkup(folder, pages) {
  const java = process.env.JAVA ?? 'java';
  const jar = join(require.resolve('vnu-jar/package.json'), '..', 'build', 'dist', 'vnu.jar');
  if (!existsSync(jar)) cannotRun(`${jar} is missing`);
  const run = spawnSync(java, ['-jar', jar, '--format', 'json', '--exit-zero-always', ...pages], {
    encoding: 'utf8',
    maxBuffer: 1 << 28,
  });
  if (run.error) cannotRun(`${java}: ${run.error.message}`);
  if (run.status !== 0) cannotRun(`the HTML checker stopped with ${run.status}: ${run.stderr}`);
  let messages;
  try {
    ({ messages } = JSON.parse(run.stderr));
  } catch (error) {
    cannotRun(`the HTML checker did not answer in JSON: ${error.message}\n${run.stderr.slice(0, 500)}`);
  }
  const once = new Map();
  for (const m of messages) {
    if (m.type === 'non-document-error') cannotRun(m.message);
    if (EXCEPTIONS.some((known) => known.test(m.message))) continue;
    const where = m.url ? relative(folder, decodeURIComponent(new URL(m.url).pathname)) : '?';
    const text = `${m.subType ?? m.type}: ${m.message}  …${(m.extract ?? '').replace(/\s+/g, ' ').slice(0, 90)}…`;
    const key = `${where}\t${m.message}`;
    if (!once.has(key)) once.set(key, `line ${m.lastLine}: ${text}`);
  }
  for (const [key, text] of once) fault(key.split('\t')[0], 'markup', text);
}

/** What the page itself says about its structure; runs inside the page. */
function inspect() {
  const faults = [];
  const count = (selector) => document.querySelectorAll(selector).length;
  if (!document.documentElement.lang) faults.push('no language given');
  if (!document.title.trim()) faults.push('no title');
  if (count('h1') !== 1) faults.push(`${count('h1')} first-level headings`);
  if (count('main') !== 1) faults.push(`${count('main')} main parts`);
  if (count('script')) faults.push('a script element');
  if (count('iframe, object, embed, form, link[href]:not([href^="#"]):not([href^="data:"])')) {
    faults.push('an element that loads, embeds or sends something');
  }
  if (!count('meta[http-equiv="Content-Security-Policy" i]')) faults.push('no content security policy');
  for (const element of document.querySelectorAll('*')) {
    for (const attribute of element.attributes) {
      if (/^on/i.test(attribute.name)) faults.push(`an event attribute: ${attribute.name} on ${element.localName}`);
    }
  }
  for (const link of document.querySelectorAll('a[href^="#"]')) {
    const id = decodeURIComponent(link.getAttribute('href').slice(1));
    if (id && !document.getElementById(id)) faults.push(`a link to #${id}, which is not there`);
  }
  for (const svg of document.querySelectorAll('svg')) {
    const hidden = svg.getAttribute('aria-hidden') === 'true';
    // The drawing for small screens is named by title and description of the other one.
    const names = (svg.getAttribute('aria-labelledby') ?? '').split(' ').map((id) => document.getElementById(id)?.localName);
    if (!hidden && !(names.includes('title') && names.includes('desc'))) {
      faults.push('a chart without title and description');
    }
  }
  // Verdicts have to be seen on a phone without a finger on the table; a word that no screen holds is the writer's own. Other
  // fonts are a little wider, and German words are.
  const isPhone = innerWidth === 320 && document.documentElement.lang === 'en';
  for (const box of isPhone ? document.querySelectorAll('.scroll') : []) {
    const heads = [...box.querySelectorAll('thead th')].map((head) => head.textContent);
    const long = /\S{21,}/.test([...box.querySelectorAll('td')].map((cell) => cell.textContent).join(' '));
    const over = box.scrollWidth - box.clientWidth;
    if (heads.indexOf('verdict') >= 3 && !long && over > 8) faults.push(`the verdicts stick out by ${over} px`);
  }
  const root = document.scrollingElement;
  if (root.scrollWidth > root.clientWidth) {
    // Name the innermost things that stick out and are not inside something that scrolls by itself.
    const wide = [...document.body.querySelectorAll('*')].filter((element) => {
      if (element.getBoundingClientRect().right <= root.clientWidth + 1) return false;
      for (let box = element.parentElement; box && box !== document.body; box = box.parentElement) {
        if (/auto|scroll|hidden/.test(getComputedStyle(box).overflowX)) return false;
      }
      return true;
    });
    const names = wide.slice(-4).map((e) => e.localName + (e.className?.baseVal ?? e.className ? `.${e.className?.baseVal ?? e.className}` : ''));
    faults.push(`scrolls sideways: ${root.scrollWidth} px in ${root.clientWidth} px (${names.join(', ')})`);
  }
  return { faults, words: document.body.innerText.trim().length };
}

/** One page in one view: structure, reflow, console, requests, axe. */
async function look(browser, path, name, view, axe) {
  const { name: viewName, ...options } = view;
  const context = await browser.newContext({ ...options, offline: true });
  try {
    const page = await context.newPage();
    const address = pathToFileURL(path).href;
    page.on('request', (request) => {
      if (request.url() !== address) fault(name, viewName, `asks for ${request.url().slice(0, 120)}`);
    });
    page.on('pageerror', (error) => fault(name, viewName, `error: ${error.message}`));
    page.on('console', (message) => fault(name, viewName, `console: ${message.text()}`));
    await page.goto(address, { waitUntil: 'load' });
    const { faults, words } = await page.evaluate(inspect);
    faults.forEach((text) => fault(name, viewName, text));
    if (words < 200) fault(name, viewName, `only ${words} characters to read`);
    if (options.javaScriptEnabled === false) return;
    await page.evaluate(axe);
    const result = await page.evaluate(
      (rules) => globalThis.axe.run(document, { runOnly: rules, preload: false, resultTypes: ['violations'] }),
      RULES,
    );
    if (!result.passes) cannotRun('axe gave no result');
    for (const v of result.violations) {
      const places = v.nodes.slice(0, 3).map((node) => `${node.target.join(' ')} (${(node.failureSummary ?? '').split('\n').slice(1, 2).join('').trim()})`);
      fault(name, viewName, `axe ${v.id}: ${v.help}; ${v.nodes.length} ×: ${places.join('; ')}`);
    }
  } finally {
    await context.close();
  }
}

/** Prints the page on both papers and counts the sheets. */
async function print(browser, path, name) {
  const context = await browser.newContext({ offline: true });
  try {
    const page = await context.newPage();
    await page.goto(pathToFileURL(path).href, { waitUntil: 'load' });
    const sheets = {};
    for (const format of ['A4', 'Letter']) {
      const pdf = await page.pdf({ format, printBackground: false, preferCSSPageSize: false });
      if (pdf.subarray(0, 5).toString('latin1') !== '%PDF-') cannotRun(`${name}: no PDF came out`);
      sheets[format] = (pdf.toString('latin1').match(/\/Type\s*\/Page\b(?!s)/g) ?? []).length;
      if (sheets[format] < 1 || sheets[format] > MOST_SHEETS) {
        fault(name, `print ${format}`, `${sheets[format]} sheets`);
      }
    }
    if (Math.abs(sheets.A4 - sheets.Letter) > 2) {
      fault(name, 'print', `${sheets.A4} sheets of A4 but ${sheets.Letter} of Letter`);
    }
    // What a reader sees on paper must not be cut off at the right edge: 170 mm are 643 CSS pixels.
    await page.setViewportSize({ width: 643, height: 900 });
    await page.emulateMedia({ media: 'print' });
    const wide = await page.evaluate(() => document.scrollingElement.scrollWidth - document.scrollingElement.clientWidth);
    if (wide > 0) fault(name, 'print', `${wide} px would be cut off at the right edge of the paper`);
    return sheets;
  } finally {
    await context.close();
  }
}

/** Where a browser is. */
function browserPath() {
  const places = [process.env.CHROMIUM, '/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome'];
  const path = places.find((place) => place && existsSync(place));
  if (!path) cannotRun('no Chromium found; set CHROMIUM to its path');
  return path;
}

const folder = resolve(process.argv[2] ?? '');
if (!process.argv[2] || !existsSync(folder)) cannotRun('give the folder of the pages');
const pages = pagesBelow(folder);
if (pages.length === 0) cannotRun(`no HTML page below ${folder}`);

checkMarkup(folder, pages);

const axe = readFileSync(require.resolve('axe-core/axe.min.js'), 'utf8');
let browser;
try {
  browser = await chromium.launch({
    executablePath: browserPath(),
    args: [
      '--no-sandbox',
      '--disable-gpu',
      '--disable-quic',
      '--no-first-run',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
    ],
  });
  let looks = 0;
  const waiting = [...pages];
  const work = async () => {
    for (let path = waiting.shift(); path; path = waiting.shift()) {
      const name = relative(folder, path);
      for (const view of VIEWS) {
        await look(browser, path, name, view, axe);
        looks += 1;
      }
      const sheets = await print(browser, path, name);
      console.log(`${name}: ${VIEWS.length} views, ${sheets.A4} sheets of A4, ${sheets.Letter} of Letter`);
    }
  };
  // A page is looked at by one core; as many at a time as there are cores.
  await Promise.all(Array.from({ length: availableParallelism() }, work));
  if (looks !== pages.length * VIEWS.length) cannotRun('not every page was looked at');
} catch (error) {
  cannotRun(error.stack ?? String(error));
} finally {
  await browser?.close();
}

if (found.length > 0) {
  console.error(`\n${found.length} found:`);
  found.sort().forEach((line) => console.error(`  ${line}`));
  process.exit(1);
}
console.log(`${pages.length} pages: nothing found`);
