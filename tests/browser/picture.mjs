// Takes the picture of a report that stands in the README.
// Usage: node picture.mjs PAGE.html PICTURE.png        Environment: CHROMIUM

import { resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { chromium } from 'playwright-core';

const [page, picture] = process.argv.slice(2);
if (!page || !picture) {
  console.error('usage: node picture.mjs PAGE.html PICTURE.png');
  process.exit(2);
}
const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
  args: ['--no-sandbox', '--disable-gpu', '--no-first-run', '--disable-background-networking'],
});
try {
  const tab = await browser.newPage({ viewport: { width: 1000, height: 1250 }, colorScheme: 'light', offline: true });
  await tab.goto(pathToFileURL(resolve(page)).href);
  await tab.screenshot({ path: picture });
} finally {
  await browser.close();
}
