// Photo measure in Chromium, opened from disk: clicks on coins whose numbers are known, the examination, and the page for everyone.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { after, test } from "node:test";

import { bench, close } from "./bench.mjs";
import { click, COIN, COIN_DRAWING, DEGREE, demo, drawn, give, means, measured, numbers, onPage, opened, PAGE, png, settled, text, tool, TRUE, value, zoomOn } from "./photos.mjs";

after(close);

test("recorded clicks on a leaning coin give back its numbers, and what the true dies show is said", async () => {
  const one = await bench({ still: true, height: 1000 });
  const page = await one.open(`${PAGE}#${COIN}`);
  await page.locator("#coin a").waitFor();
  await means(page, "mark-turn", "centre");
  await means(page, "mark-to-keel", "points");
  const bytes = await drawn(page, COIN_DRAWING, 3000, 2800, "image/png");
  const { dots } = await measured(page, bytes);
  assert.ok(await page.locator("#leans").isVisible(), "an ellipse is suggested");
  await page.locator("#take-ellipse").click();
  const [radius, , , lean, wide] = numbers(await text(page, "rim-said"));
  assert.ok(Math.abs(radius - TRUE.radius) < 4, `radius ${radius}`);
  assert.ok(Math.abs(lean - TRUE.lean) < Math.max(0.8, wide), `lean ${lean} ± ${wide}`);
  assert.match(await text(page, "diameter-said"), /24\.6 mm by the standard/);
  // A pixel of the screen at this zoom is more than the two of the picture that were stated.
  assert.match(await text(page, "coarse"), /^Set to ± \d+(\.\d)? px, a pixel of the screen/);
  assert.equal(await page.inputValue("#click"), /± ([\d.]+) px/.exec(await text(page, "coarse"))?.[1], "the field and the sentence say the same");

  await tool(page, "place");
  await click(page, dots["010"]);
  const place = await value(page, 0);
  const [hour, minute, , reach, around] = numbers(place);
  assert.ok(Math.abs(hour + minute / 60 - TRUE.hours) <= 2 / 60, place);
  assert.ok(Math.abs(reach - TRUE.reach) < 0.01 && around < 0.01, place);
  assert.match(await page.locator("#results > li").nth(0).innerText(), /At the place on file of look 5/);

  await tool(page, "turn");
  await click(page, dots["110"], dots["001"], dots["010"]);
  const [tilt, tiltWide] = numbers(await value(page, 1));
  assert.ok(Math.abs(tilt - TRUE.tilt) < 0.5, `tilt ${tilt}`);
  assert.ok(tiltWide > 0.1 && tiltWide < 2, `± ${tiltWide}`);
  const second = page.locator("#results > li").nth(1);
  assert.match(await second.innerText(), /Within −0\.1 to 3\.1°: the true dies/);
  assert.match(await second.innerText(), /Outside −9 to −3°: “Mark cemented on/);

  await tool(page, "meets");
  await click(page, dots["001"], dots["110"], dots["101"], dots["011"]);
  const [share] = numbers(await value(page, 2));
  assert.ok(Math.abs(share - TRUE.meets) < 0.02, `meets at ${share}`);

  await tool(page, "distance");
  await click(page, dots["001"], dots["110"]);
  const [mm] = numbers(await value(page, 3));
  assert.ok(Math.abs(mm - (300 * 24.6) / (2 * TRUE.radius)) < 0.05, `${mm} mm`);

  await tool(page, "tilt");
  await click(page, dots["110"], dots["001"], dots["101"], dots["011"]);
  // The letter's upright was drawn 0.3 radians from square to the stroke.
  const [onBase] = numbers(await value(page, 4));
  assert.ok(Math.abs(Math.abs(onBase) - 0.3 / DEGREE) < 0.5, `tilt on a base line ${onBase}`);
  await tool(page, "angle");
  await click(page, dots["110"], dots["001"], dots["101"], dots["011"]);
  assert.ok(Math.abs(numbers(await value(page, 5))[0] - (90 - 0.3 / DEGREE)) < 0.5);
  await tool(page, "offset");
  await click(page, dots["110"], dots["001"], dots["101"]);
  const [off] = numbers(await value(page, 6));
  assert.ok(Math.abs(off - (200 * TRUE.meets * Math.cos(0.3) * 24.6) / (2 * TRUE.radius)) < 0.05, `offset ${off} mm`);

  // Each kind of tilt and of offset is compared with checks that mean it, and with no other.
  const row = (/** @type {number} */ n) => page.locator("#results > li").nth(n);
  assert.match(await row(4).innerText(), /Not compared: the tilt on file is from the line to the centre \(look \d+\)/);
  assert.match(await row(6).innerText(), /Not compared: the offset on file is between two points/);
  for (const n of [4, 6]) {
    assert.doesNotMatch(await row(n).innerText(), /Within|Outside/i);
    assert.equal(await row(n).locator(".counts").count(), 0, "and cannot be passed on as it");
  }
  assert.match(await row(1).locator(".counts").innerText(), /It is the coin’s tilt from the line to the centre, for the examination/);
  assert.match(await row(3).locator(".counts").innerText(), /It is the coin’s offset between two points/);
  // A check that does not say what it means gives its numbers and no verdict.
  await means(page, "mark-turn", "");
  await page.fill("#diameter", "24.6");
  for (const n of [1, 4]) {
    assert.match(await row(n).innerText(), /On file, without saying whether it is on a base line or from the line to the centre: −0\.1 to 3\.1°: the true dies/);
    assert.doesNotMatch(await row(n).innerText(), /Within|outside/i);
  }
  assert.match(await row(4).locator(".counts").innerText(), /tilt on a base line/);

  // The places on file are drawn where they are: the pin of the look at 6:12 lies on the green dot's line.
  const pin = await page.locator(".pin", { hasText: "5" }).first().getAttribute("transform");
  const [px, py] = numbers(pin ?? "");
  const box = await page.locator(".openseadragon-canvas").boundingBox();
  const [gx, gy] = await onPage(page, dots["010"]);
  assert.ok(Math.hypot(px + (box?.x ?? 0) - gx, py + (box?.y ?? 0) - gy) < 2, "pin and dot are one place");

  // A diameter typed takes the place of the law's.
  await page.fill("#diameter", "1 in");
  assert.ok(Math.abs(numbers(await value(page, 3))[0] - (300 * 25.4) / (2 * TRUE.radius)) < 0.05, "inches are understood");
  await page.fill("#diameter", "wide");
  assert.equal(await page.locator("#diameter").getAttribute("aria-invalid"), "true");
  assert.match(await value(page, 3), / px/);
  await page.fill("#diameter", "");
  assert.deepEqual(one.log, []);
  await one.close();
});

for (const name of ["1911-k-reverse", "1911-k-tilted", "1911-k-added-reverse"]) {
  test(`recorded clicks on the demo picture ${name} give back its numbers`, async () => {
    const { truth, at, bytes } = demo(name);
    const { mark, points } = truth;
    for (const [what, point] of Object.entries(points)) {
      const [x, y] = at(point.clock, point.reach);
      assert.ok(Math.hypot(x - point.px[0], y - point.px[1]) < 0.05, `${what} lies where the truth says`);
    }
    const one = await bench({ still: true, height: 1000 });
    const page = await one.open(`${PAGE}#${COIN}`);
    await page.locator("#coin a").waitFor();
    await opened(page, `${name}.png`, bytes);
    await page.locator(`input[name=face][value=${truth.face}]`).check();
    await click(page, ...[0.5, 2, 3.5, 5, 6.5, 8, 9.5, 11].map((hours) => at(hours, 1)));
    await page.locator("input[name=top-by][value=upright]").check();
    await tool(page, "top");
    await click(page, at(6, 0.95), at(0, 0.95));
    if (truth.ellipse) {
      await page.locator("input[name=shape][value=ellipse]").check();
      const [, , , lean, wide] = numbers(await text(page, "rim-said"));
      assert.ok(Math.abs(lean - truth.ellipse.tilt_deg) < wide, `leans by ${lean} ± ${wide}`);
    }
    await tool(page, "place");
    for (const point of Object.values(points)) await click(page, point.px);
    for (const [n, [what, point]] of Object.entries(points).entries()) {
      const words = await value(page, n);
      const [hour, minute, , reach] = numbers(words);
      assert.ok(Math.abs(((hour + minute / 60 - point.clock + 18) % 12) - 6) < 0.03, `${what}: ${words}, not ${point.clock}`);
      assert.ok(Math.abs(reach - point.reach) < 0.01, `${what}: ${words}, not ${point.reach}`);
    }
    // The stroke is 35 px long: an examiner goes nearer, and so do these clicks. The tool is chosen first, as the page may move.
    const count = Object.keys(points).length;
    await tool(page, "turn");
    await zoomOn(page, mark.stroke_px[1], 5);
    await click(page, ...mark.stroke_px, points.mark.px);
    const [turn] = numbers(await value(page, count));
    assert.ok(Math.abs(turn - mark.tilt_to_line_to_centre_deg) < 0.5, `${turn}° from the line to the centre, not ${mark.tilt_to_line_to_centre_deg}`);
    await tool(page, "tilt");
    await click(page, ...mark.stroke_px);
    await page.locator("#whole").click();
    await settled(page);
    await zoomOn(page, mark.base_line_px[0], 2.2);
    await click(page, ...mark.base_line_px);
    const [tilt] = numbers(await value(page, count + 1));
    assert.ok(Math.abs(tilt - mark.tilt_to_base_line_deg) < 0.5, `${tilt}° on its base line, not ${mark.tilt_to_base_line_deg}`);
    await page.locator("#whole").click();
    await settled(page);
    await tool(page, "distance");
    await click(page, mark.top_px, mark.keel_px);
    const words = await value(page, count + 2);
    assert.ok(Math.abs(numbers(words)[0] - mark.top_to_keel_mm) < 0.06, `${words} from the top of the mark to the keel, not ${mark.top_to_keel_mm}`);
    console.log(`${name}: tilt ${turn}° and ${tilt}°, drawn with ${mark.tilt_to_line_to_centre_deg}° and ${mark.tilt_to_base_line_deg}°`);
    assert.deepEqual(one.log, []);
    await one.close();
  });
}

test("a close view without the rim still gives the tilt on a base line, of the true mark and of the cemented one", async () => {
  const one = await bench({ still: true, height: 1000 });
  const page = await one.open(`${PAGE}#${COIN}`);
  await page.locator("#coin a").waitFor();
  await page.locator("input[name=face][value=reverse]").check();
  for (const name of ["1911-k-mark", "1911-k-mark-cemented"]) {
    const { truth, bytes } = demo(name);
    await opened(page, `${name}.png`, bytes);
    await tool(page, "tilt");
    await click(page, ...truth.mark.stroke_px, ...truth.mark.base_line_px);
    const words = await value(page, 0);
    assert.ok(Math.abs(numbers(words)[0] - truth.mark.tilt_to_base_line_deg) < 0.5, `${name}: ${words}, not ${truth.mark.tilt_to_base_line_deg}`);
  }
  await tool(page, "turn");
  await click(page, [100, 100], [200, 200], [150, 140]);
  assert.match(await page.locator("#results > li").nth(1).innerText(), /Mark the rim first/);
  assert.deepEqual(one.log, []);
  await one.close();
});

test("a stroke that runs along the letter is refused in words, not given a number", async () => {
  const one = await bench({ still: true });
  const page = await one.open(PAGE);
  await opened(page, "plain.png", png(900, 700));
  await tool(page, "meets");
  await click(page, [400, 400], [400, 440], [430, 420], [430, 460]);
  const words = await page.locator("#results > li").innerText();
  assert.match(words, /too nearly the same way|do not meet/);
  await click(page, [400, 400], [401, 500], [430, 420], [430, 520]);
  assert.match(await page.locator("#results > li").nth(1).innerText(), /too nearly the same way/);
  assert.equal(await page.locator("#results .value").count(), 0);
  // Across it, the answer has a sense; and one that may as well lie on the letter is not called beyond it.
  await click(page, [300, 300], [400, 300], [500, 400], [500, 302]);
  assert.doesNotMatch(await value(page, 2), /above it/);
  assert.deepEqual(one.log, []);
  await one.close();
});

test("places outside the photograph are refused in words, by hand and by key; a mark dragged stays within", async () => {
  const one = await bench({ still: true });
  const page = await one.open(PAGE);
  await opened(page, "tall.png", png(300, 600));
  await click(page, [-100, 300]);
  assert.match(await text(page, "trouble"), /outside the photograph: nothing was marked/);
  assert.equal(await page.locator(".on-rim").count(), 0);
  await page.locator(".openseadragon-canvas").focus();
  for (let n = 0; n < 8; n++) await page.keyboard.press("ArrowRight");
  await settled(page);
  await page.keyboard.press("Enter");
  assert.equal(await page.locator(".on-rim").count(), 0);
  assert.match(await text(page, "trouble"), /outside/);
  await page.keyboard.press("0");
  await settled(page);
  await click(page, [150, 300]);
  assert.equal(await page.locator(".on-rim").count(), 1);
  assert.equal(await text(page, "trouble"), "");
  const [x, y] = await onPage(page, [150, 300]);
  const [left] = await onPage(page, [-60, 300]);
  await page.mouse.move(x, y);
  await page.mouse.down();
  await page.mouse.move(left, y, { steps: 4 });
  await page.mouse.up();
  const kept = await page.evaluate(() => JSON.parse(localStorage.getItem(Object.keys(localStorage).find((key) => key.startsWith("tellmark-marks-")) ?? "") ?? "{}").rim);
  assert.equal(kept[0][0], 0, "at the edge of the picture");
  assert.deepEqual(one.log, []);
  await one.close();
});

test("a rim of as many clicks as unknowns has nothing left to check it by, and says so", async () => {
  const one = await bench({ still: true });
  const page = await one.open(PAGE);
  await opened(page, "plain.png", png(900, 700));
  await click(page, [200, 350], [450, 100], [700, 350]);
  assert.match(await text(page, "rim-said"), /With three clicks nothing is left to check it by/);
  assert.doesNotMatch(await text(page, "rim-said"), /px off it/);
  await click(page, [450, 600]);
  assert.match(await text(page, "rim-said"), /The clicks lie \d\.\d px off it/);
  await page.locator("input[name=shape][value=ellipse]").check();
  await click(page, [627, 527]);
  assert.match(await text(page, "rim-said"), /With five clicks nothing is left to check it by/);
  assert.deepEqual(one.log, []);
  await one.close();
});

test("a reference picture sets the face that its name tells", async () => {
  const one = await bench({ still: true });
  const page = await one.open(`${PAGE}#${COIN}`);
  await page.locator("#coin a").waitFor();
  const face = () => page.locator("input[name=face]:checked").inputValue();
  for (const [label, wanted] of [["reverse whole", "reverse"], ["obverse whole", "obverse"], ["reverse mark", "reverse"]]) {
    const before = await text(page, "about");
    await page.locator("#site-picture").selectOption({ label });
    await page.waitForFunction((was) => document.getElementById("about")?.textContent !== was, before);
    assert.equal(await face(), wanted, label);
  }
  // Neither the crack's name nor its words say a face: what it shows does, where a check has its place.
  const told = await page.evaluate((coin) => new Promise((done) => {
    const tm = /** @type {any} */ (window).Tellmark;
    tm.shelf.country("orrin", (/** @type {any} */ country) => {
      const issue = country.issues[coin];
      const placed = issue.checks.find((/** @type {any} */ one) => one.at);
      const shows = [country.checks[placed.check].id];
      const all = [{ name: "x", alt: "y", src: "z.png", shows }, { name: "x", alt: "an obverse like a reverse", src: "z.png", shows: [] }];
      done([placed.at.face, ...all.map((picture) => tm.photoMarks.faceOf(picture, issue, country))]);
    });
  }), COIN);
  assert.equal(told[1], told[0]);
  assert.equal(told[2], "", "words that say both say neither");
  assert.deepEqual(one.log, []);
  await one.close();
});

test("short arcs are warned of and clicks on one line refused, in words", async () => {
  const one = await bench({ still: true });
  const page = await one.open(PAGE);
  await opened(page, "plain.png", png(900, 700));
  await click(page, [100, 100], [300, 100]);
  assert.match(await text(page, "rim-said"), /Three different points are needed; there are 2/);
  await click(page, [500, 100]);
  assert.match(await text(page, "rim-said"), /lie on one line/);
  await page.locator("#undo").click();
  await click(page, [450, 130]);
  assert.match(await text(page, "rim-warn"), /span only \d+° of the rim. The radius is not to be trusted/);
  await tool(page, "place");
  await click(page, [300, 300]);
  assert.match(await page.locator("#results > li").innerText(), /Mark the top of the coin/);
  assert.doesNotMatch(await page.locator("#measure").innerText(), /NaN|Infinity|undefined/);
  assert.deepEqual(one.log, []);
  await one.close();
});

test("results go into the examination with their numbers and marks, and come back from it", async () => {
  const one = await bench({ still: true, height: 1000 });
  let page = await one.open(`${PAGE}#${COIN}`);
  await page.locator("#coin a").waitFor();
  await means(page, "mark-turn", "centre");
  const bytes = await drawn(page, COIN_DRAWING, 3000, 2800, "image/png");
  const { dots } = await measured(page, bytes);
  await page.locator("#take-ellipse").click();
  await tool(page, "turn");
  await click(page, dots["110"], dots["001"], dots["010"]);
  await tool(page, "place");
  await click(page, dots["010"]);
  await page.locator(".counts input").check();
  await page.locator("#put").click();
  await page.locator("#put-said a").waitFor();
  assert.match(await text(page, "put-said"), /An examination was begun. The tilt, and the marks with 2 results, are in the examination of/);
  const record = await page.evaluate(() => {
    const tm = /** @type {any} */ (window).Tellmark;
    return tm.drawer.open(tm.drawer.current()).record;
  });
  assert.equal(record.coin.issue, COIN);
  assert.equal(record.measurements.length, 1);
  const [tilt] = record.measurements;
  assert.equal(tilt.quantity, "tilt");
  assert.equal(tilt.unit, "°");
  assert.equal(tilt.method, "photograph");
  assert.ok(Math.abs(tilt.value - TRUE.tilt) < 0.5 && tilt.uncertainty > 0.05 && tilt.uncertainty < 1, `${tilt.value} ± ${tilt.uncertainty}`);
  // To the second digit of the standard uncertainty, and no further.
  const digits = (/** @type {number} */ x) => String(x).split(".")[1]?.length ?? 0;
  assert.ok(tilt.uncertainty >= 0.1 && digits(tilt.uncertainty) <= 2 && digits(tilt.value) <= 2, `${tilt.value} ± ${tilt.uncertainty}`);
  assert.match(tilt.words, /^Tilt from the line to the centre, on coin\.png: \d\.\d+° ± \d.*\(k = 2\)$/);
  assert.equal(record.pictures[0].name, "coin.png");
  assert.match(record.pictures[0].words, /reverse\. Tilt from the line to the centre 1: .*; Clock and reach 2: 6:1/);

  // A second time it takes the place of the first, in the same record.
  await page.locator("#put").click();
  await page.waitForFunction(() => /^The tilt/.test(document.getElementById("put-said")?.textContent ?? ""));
  const again = await page.evaluate(() => {
    const tm = /** @type {any} */ (window).Tellmark;
    return tm.drawer.open(tm.drawer.current()).record;
  });
  assert.deepEqual([again.id, again.measurements.length, again.pictures.length], [record.id, 1, 1]);

  await page.evaluate(() => Object.keys(localStorage).filter((name) => name.startsWith("tellmark-marks-")).forEach((name) => localStorage.removeItem(name)));
  page = await one.open("index.html");
  page = await one.open(`${PAGE}#record=${record.id}`);
  await page.locator("#coin a").waitFor();
  assert.match(await text(page, "prompt"), /The marks wait for “coin\.png”/);
  await opened(page, "coin.png", bytes);
  assert.equal(await page.locator("#results > li").count(), 2);
  assert.deepEqual(one.log, []);
  await one.close();
});

test("the page with a measured coin holds to WCAG 2.2 AA and does not scroll sideways at 320 px", async () => {
  const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
  const one = await bench({ still: true });
  const page = await one.open(`${PAGE}#${COIN}`);
  await page.locator("#coin a").waitFor();
  const bytes = await drawn(page, COIN_DRAWING, 3000, 2800, "image/png");
  const { dots } = await measured(page, bytes);
  await tool(page, "turn");
  await click(page, dots["110"], dots["001"], dots["010"]);
  await page.evaluate(axe);
  /** @type {string[]} */
  const wrong = [];
  for (const width of [1440, 820, 390, 320]) {
    await page.setViewportSize({ width, height: 900 });
    if (await page.evaluate(() => document.documentElement.scrollWidth > innerWidth)) wrong.push(`${width}: scrolls sideways`);
    for (const light of /** @type {const} */ (["light", "dark"])) {
      await page.emulateMedia({ colorScheme: light, reducedMotion: "reduce" });
      const found = await page.evaluate(async () => (await /** @type {any} */ (window).axe.run(document, { runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"], resultTypes: ["violations"] })).violations.flatMap((/** @type {any} */ rule) => rule.nodes.map((/** @type {any} */ node) => `${rule.id}: ${node.target}`)));
      wrong.push(...found.map((/** @type {string} */ line) => `${width} ${light}: ${line}`));
    }
  }
  assert.deepEqual(wrong, []);
  await one.close();
});
