// Holds the licence and the source of every dependency against the lists in deny.toml.
// Usage: cargo metadata --format-version 1 --locked | node .ci/licences.mjs
// Exit status: 0 all allowed, 1 something is not, 2 could not run.

import { readFileSync } from 'node:fs';

/** The texts in the `allow` list of deny.toml. */
function allowed() {
  const text = readFileSync(new URL('../deny.toml', import.meta.url), 'utf8');
  const list = /^allow\s*=\s*\[([^\]]*)\]/m.exec(text)?.[1] ?? '';
  return new Set([...list.replace(/#.*/g, '').matchAll(/"([^"]+)"/g)].map((found) => found[1]));
}

/** Whether an SPDX expression can be met with allowed licences: OR needs one side, AND both. */
function met(expression, allow) {
  const words = expression.replace(/\s*\/\s*/g, ' OR ').match(/\(|\)|[^\s()]+/g) ?? [];
  let at = 0;
  const either = () => {
    let ok = both();
    while (words[at] === 'OR') {
      at += 1;
      ok = both() || ok;
    }
    return ok;
  };
  const both = () => {
    let ok = one();
    while (words[at] === 'AND') {
      at += 1;
      ok = one() && ok;
    }
    return ok;
  };
  const one = () => {
    if (words[at] === '(') {
      at += 1;
      const ok = either();
      at += 1;
      return ok;
    }
    let name = words[at];
    at += 1;
    if (words[at] === 'WITH') {
      name += ` WITH ${words[at + 1]}`;
      at += 2;
    }
    return allow.has(name);
  };
  return either() && at === words.length;
}

const allow = allowed();
const { packages } = JSON.parse(readFileSync(0, 'utf8'));
if (allow.size === 0 || packages.length < 2) {
  console.error('cannot run: no list of licences or no packages');
  process.exit(2);
}
const faults = [];
for (const { name, version, license, source } of packages) {
  if (!license || !met(license, allow)) faults.push(`${name} ${version}: licence ${license ?? 'not given'}`);
  if (source && !/^(registry|sparse)\+/.test(source)) faults.push(`${name} ${version}: does not come from the registry`);
}
faults.forEach((line) => console.error(line));
console.log(`${packages.length} packages, ${faults.length} not allowed`);
process.exit(faults.length > 0 ? 1 : 0);
