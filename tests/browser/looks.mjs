// Pictures of one page of every kind, to be looked at: node tests/browser/looks.mjs FOLDER [KIND]
// Not a test. The whole page is taken, cut where it is longer than five screens.

import { mkdirSync } from "node:fs";
import { join } from "node:path";

import { bench, close, kinds } from "./bench.mjs";

const [out, only] = process.argv.slice(2);
if (!out) {
  console.error("Name a folder for the pictures.");
  process.exit(2);
}
mkdirSync(out, { recursive: true });

for (const width of [1440, 820, 390]) {
  for (const dim of [false, true]) {
    const one = await bench({ width, height: width < 500 ? 844 : 1000, dim, still: true });
    for (const [kind, path] of Object.entries(kinds)) {
      if (only && kind !== only) continue;
      const page = await one.open(path);
      const height = Math.min(await page.evaluate(() => document.documentElement.scrollHeight), width < 500 ? 4200 : 4000);
      const name = `${kind.replace(/\W+/g, "-")}-${width}${dim ? "-dim" : ""}.png`;
      await page.screenshot({ path: join(out, name), fullPage: true, clip: { x: 0, y: 0, width, height } });
    }
    one.log.forEach((line) => console.log(line));
    await one.close();
  }
}
await close();
