// Everyone can use it: contrast, names, reflow, focus, no scripts, no motion, in light and dim, on desk, tablet and phone.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { after, describe, test } from "node:test";

import { bench, close, kinds, pages } from "./bench.mjs";
import { answered } from "./lookup.mjs";

after(close);

const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"];
const WIDTHS = [1440, 820, 390];

/** Several things wrong are shown together. @param {string[]} wrong */
function none(wrong) {
  assert.deepEqual(wrong.slice(0, 20), [], `${wrong.length} in all`);
}

/** What axe finds wrong on the page as it stands. @param {import("playwright-core").Page} page @returns {Promise<string[]>} */
function violations(page) {
  return page.evaluate(async (tags) => {
    const { violations: found } = await /** @type {any} */ (window).axe.run(document, { runOnly: tags, resultTypes: ["violations"] });
    return found.flatMap((/** @type {any} */ rule) => rule.nodes.slice(0, 3).map((/** @type {any} */ node) => {
      const data = node.any[0]?.data ?? {};
      const why = data.contrastRatio ? ` ${data.contrastRatio} of ${data.expectedContrastRatio}` : "";
      return `${rule.id}${why} (${rule.nodes.length}): ${node.target.join(" ")}`;
    }));
  }, RULES);
}

describe("the rules of WCAG 2.2 AA that a program can check", () => {
  for (const [kind, path] of Object.entries(kinds)) {
    test(`hold on the page of kind: ${kind}`, async () => {
      const wrong = [];
      const one = await bench({ still: true });
      const page = await one.open(path);
      await page.evaluate(axe);
      for (const width of WIDTHS) {
        await page.setViewportSize({ width, height: 900 });
        for (const light of /** @type {const} */ (["light", "dark"])) {
          await page.emulateMedia({ colorScheme: light, reducedMotion: "reduce" });
          for (const line of await violations(page)) wrong.push(`${width} ${light}: ${line}`);
        }
      }
      await one.close();
      none(wrong);
    });
  }

  test("hold for the results of the look-up", async () => {
    const one = await bench({ still: true });
    const page = await one.open("index.html");
    await page.locator("#lookup").pressSequentially("16d");
    await answered(page);
    await page.keyboard.press("ArrowDown");
    await page.evaluate(axe);
    const wrong = [];
    for (const light of /** @type {const} */ (["light", "dark"])) {
      await page.emulateMedia({ colorScheme: light, reducedMotion: "reduce" });
      wrong.push(...(await violations(page)).map((line) => `${light}: ${line}`));
    }
    await one.close();
    none(wrong);
  });

  test("hold when the page was dimmed by its button, whatever the system wishes", async () => {
    const one = await bench({ still: true });
    const page = await one.open(kinds.issue);
    await page.locator("#dim").click();
    await page.evaluate(axe);
    const wrong = await violations(page);
    await one.close();
    none(wrong);
  });
});

describe("reflow", () => {
  // Every kind, and every ninth page besides: tables differ from entry to entry.
  const sample = [...new Set([...Object.values(kinds), ...pages.filter((page, at) => !page.startsWith("written/") && at % 9 === 0)])];
  for (const [width, why] of /** @type {const} */ ([[320, "320 px wide"], [640, "1280 px wide at 200 % zoom"]])) {
    test(`no page scrolls sideways when ${why}`, async () => {
      const one = await bench({ width, height: 700, still: true });
      const wrong = [];
      for (const path of sample) {
        const page = await one.open(path);
        const over = await page.evaluate(() => {
          const most = document.documentElement.clientWidth;
          if (document.documentElement.scrollWidth <= most) return "";
          const wide = [...document.querySelectorAll("main *, header *, footer *")].find((node) => node.getBoundingClientRect().right > most + 1 && !node.closest(".wide, .discs, .skip, pre, .unseen"));
          return `${document.documentElement.scrollWidth} px, for ${wide?.tagName} ${wide?.className} ${wide?.textContent?.slice(0, 40)}`;
        });
        if (over) wrong.push(`${path}: ${over}`);
      }
      await one.close();
      none(wrong);
    });
  }
});

describe("keyboard", () => {
  test("whatever takes the focus shows it, and is not hidden by the strip at the top", async () => {
    const wrong = [];
    for (const width of [1440, 390]) {
      const one = await bench({ width, height: 800, still: true });
      for (const path of [kinds.front, kinds.series, kinds.issue, kinds.families, kinds.coverage, kinds["coverage of a country"]]) {
        const page = await one.open(path);
        await page.evaluate(() => /** @type {HTMLElement | null} */ (document.activeElement)?.blur());
        for (let step = 0; step < 90; step++) {
          await page.keyboard.press("Tab");
          const seen = await page.evaluate(() => {
            const at = document.activeElement;
            if (!at || at === document.body) return "end";
            const style = getComputedStyle(at);
            const box = at.getBoundingClientRect();
            const strip = document.querySelector(".strip");
            const below = strip && !strip.contains(at) && !at.matches(".skip") && getComputedStyle(strip).position === "sticky" ? strip.getBoundingClientRect().bottom : 0;
            const name = `${at.tagName} ${at.className instanceof SVGAnimatedString ? at.className.baseVal : at.className} ${at.textContent?.trim().slice(0, 30)}`;
            if (style.outlineStyle === "none" || parseFloat(style.outlineWidth) < 2) return `no outline: ${name}`;
            if (box.width < 1 || box.height < 1) return `no size: ${name}`;
            if (box.bottom <= below || box.top >= innerHeight) return `out of sight: ${name}`;
            return "";
          });
          if (seen === "end") break;
          if (seen) wrong.push(`${path} at ${width}: ${seen}`);
        }
      }
      await one.close();
    }
    none(wrong);
  });

  test("the first Tab shows the way past the strip, and it works", async () => {
    const one = await bench();
    const page = await one.open(kinds.issue);
    await page.keyboard.press("Tab");
    const box = await page.locator(".skip").boundingBox();
    assert.ok(box && box.x >= 0 && box.y >= 0, "in sight");
    await page.keyboard.press("Enter");
    await page.keyboard.press("Tab");
    assert.ok(await page.evaluate(() => document.activeElement?.closest("main")), "the next stop is in the page itself");
    await one.close();
  });
});

describe("without", () => {
  test("scripts, every kind of page reads the same, and the front page says what is lost", async () => {
    const with_ = await bench({ still: true });
    const without = await bench({ scripts: false, still: true });
    for (const path of Object.values(kinds).filter((path) => !path.startsWith("bench/"))) {
      const text = [];
      for (const one of [with_, without]) {
        const page = await one.open(path);
        if (path === kinds.front && one === without) {
          assert.match(await page.locator("main noscript").innerText(), /needs scripts/);
          assert.equal(await page.locator("#lookup").isVisible(), false);
        }
        text.push((await page.locator("main").innerText()).replace(/The look-up needs scripts[^\n]*|Look a coin up/g, "").replace(/\s+/g, " "));
      }
      assert.equal(text[1], text[0], path);
    }
    await with_.close();
    await without.close();
  });

  test("scripts, the bench says that it works by them, and shows nothing that cannot work", async () => {
    const one = await bench({ scripts: false, still: true });
    for (const path of Object.values(kinds).filter((path) => path.startsWith("bench/"))) {
      const page = await one.open(path);
      assert.match(await page.locator("main noscript").first().innerText(), /scripts/, path);
      const dead = await page.locator("main :is(button, input, select, textarea)").evaluateAll((all) => all.filter((node) => node.checkVisibility()).length);
      assert.equal(dead, 0, `${path} shows ${dead} fields or buttons`);
    }
    await one.close();
  });

  // Not only where the system asks for none: a smooth scroll that Enter interrupts never arrives.
  test("motion, for everyone", async () => {
    for (const still of [true, false]) {
      const one = await bench({ still });
      const page = await one.open(kinds.issue);
      const moves = await page.evaluate(() => ({
        scroll: getComputedStyle(document.documentElement).scrollBehavior,
        slow: [...document.querySelectorAll("*")].filter((node) => parseFloat(getComputedStyle(node).transitionDuration) > 0 || getComputedStyle(node).animationName !== "none").length,
      }));
      assert.deepEqual(moves, { scroll: "auto", slow: 0 });
      await one.close();
    }
  });
});
