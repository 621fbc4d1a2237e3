// @ts-check
/* Text → tokens, as the indexer makes them; tests/terms.json holds both to it. */
((/** @type {TellmarkGlobal} */ tm) => {
  "use strict";
  const numbers = "one two three four five six seven eight nine ten eleven twelve".split(" ");

  /** @type {Record<string, string>} Apostrophes vanish; signs of money and fractions become words. */
  const signs = {
    "'": "", "’": "", "‘": "", "ʼ": "", "′": "", "`": "", "´": "", "＇": "",
    "½": " half ", "¼": " quarter ", $: " dollar ", "¢": " c ", "£": " pound ",
  };

  /** @type {Record<string, string>} Letters that do not fall apart into a letter and an accent. */
  const letters = { ß: "ss", æ: "ae", œ: "oe", þ: "th", ł: "l", ø: "o", đ: "d", ð: "d", ı: "i", ς: "σ" };

  /** Lower case without accents. @param {string} text */
  function fold(text) {
    return text
      .replace(/['’‘ʼ′`´＇½¼$¢£]/g, (sign) => signs[sign])
      .normalize("NFKD")
      .toLowerCase()
      .replace(/\p{M}+/gu, "")
      .replace(/[ßæœþłøđðıς]/g, (letter) => letters[letter]);
  }

  /** Tokens in order: letters apart from digits, small number words as digits. @param {string} text @returns {string[]} */
  tm.terms = (text) => {
    const whole = fold(text).replace(/(^|\P{N})1[/⁄]([24])(?!\p{N})/gu, (_, before, n) => `${before} ${n === "2" ? "half" : "quarter"} `);
    const runs = whole.match(/\p{N}+|(?:(?!\p{N})\p{Alphabetic})+/gu) ?? [];
    return runs.map((run) => (numbers.includes(run) ? String(numbers.indexOf(run) + 1) : run));
  };
})((window.Tellmark ??= {}));
