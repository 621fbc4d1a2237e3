// Queries of all shapes: listed by hand, and made from the entries by fixed rules, so that every run asks the same.

import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";

const LISTED = [
  // Shorthand of the trade.
  "16d dime", "16-D dime", "1916d 10c", "'16 D 10c", "’16 D", "1918/7", "1918/7 nickel", "18 over 17", "18 over 17 quarter", "3 legs 37",
  "1893s morgan", "1889 cc dollar", "89cc", "$1 1895", "1895 o $1", "10¢ 1916 D", "half crown 1905", "2/6 1905", "5/- 1935", "6d 1816",
  "5 zł nike 1932", "2½ gulden 1898", "1/2 mark 1908 F", "½ mark", "1/4 dollar 1804", "8r 1824 mo", "meiji 8", "1936 dot", "S over CC",
  "no arrows 1853 o", "micro o", "level ground", "type 2", "D/S", "1867 rays", "1796 quarter", "thaler 1780 SF", "mtt", "rouble 1913",
  // Prefixes, as typed.
  "1", "16", "16d", "16d ", "16d d", "16d di", "16d dim", "d", "di", "dim", "18", "189", "1893-", "1893-s do", "gr", "gran", "granul",
  "ma", "mar", "mari", "seat", "wing", "transf", "electro", "spark", "c", "cc", "co", "con", "s", "st", "str", "pils", "sztan", "the", "of th",
  // Slips.
  "dmie 1916", "dine", "mogran dollar", "morgn 1893", "qaurter", "seatd liberty", "bufalo nickel", "electrotpye", "florn 1925", "shiling",
  "thalr", "threepnce 1943", "wizzed", "tranfer dies", "crwn", "aaaa", "xime", "dimex", "zloyt", "roubl",
  // Other letters and scripts.
  "złotych", "ZŁOTYCH", "Günzburg", "gunzburg", "Hangö", "bōeki gin", "рубль", "1 рубль", "рубл", "袁世凱", "Potosí 8 soles", "perełek", "écu",
  "ﬁne", "１９１６ ＤＩＭＥ", "İstanbul", "straße",
  // Prose, and questions.
  "seam at the foot of the mint mark", "granular surface", "die axis", "how does the mark meet the field", "raised lumps in the field",
  "weight too low", "edge reeding filed", "what is a transfer die", "tool marks beside the digit", "specific gravity", "chopmarks",
  "plated base metal", "two halves joined edge line", "doubled die", "die crack from the rim", "common practice", "low light from the side",
  "coinage act 1873", "report of the director of the mint", "statutes at large", "united states", "great britain", "poland 1925",
  // Nothing, and nonsense.
  "", " ", "-", "?", "''", "/", "zzzz", "qqqqqq wwwwww", "0", "00", "9999", "1016d", "🪙", "\u0301", "<script>", "a b c d e f g h",
  "the of and", "the", "1916 1916 1916 dime dime", "__proto__", "constructor", "toString 1916", "hasOwnProperty",
  // Long.
  "dime ".repeat(200), "1916 d winged head dime mint mark added united states denver ten cents ".repeat(40), "x".repeat(3000),
  Array.from({ length: 60 }, (_, n) => 1850 + n).join(" "), "a".repeat(63) + " " + "b".repeat(64),
];

/** Every `step`th of a list. @template T @param {T[]} list @param {number} step */
const thin = (list, step) => list.filter((_, at) => at % step === 0);

/** All queries, each once. The issues give dates with mints and values, the other kinds their names and their prose. */
export function queries(entries) {
  const files = readdirSync(entries, { recursive: true }).map(String).filter((name) => name.endsWith(".toml")).sort();
  const of = (kind) => files.filter((name) => name.includes(`/${kind}/`));
  const text = (name) => readFileSync(join(entries, name), "utf8");
  const value = (source, key) => source.match(new RegExp(`^${key}\\s*=\\s*(?:"([^"]*)"|(\\d+))`, "m"))?.slice(1).find(Boolean) ?? "";
  const made = [];

  thin(of("issues"), 6).forEach((name, at) => {
    const source = text(name);
    const [year, mint, variety] = ["year", "mint", "variety"].map((key) => value(source, key));
    const coin = name.split("/").at(-2).replaceAll("-", " ");
    const shapes = [
      `${year}-${mint} ${coin}`, `${year.slice(2)}${mint.toLowerCase()} ${coin}`, `'${year.slice(2)} ${mint} ${coin}`, `${coin} ${year}${mint}`,
      `${year} ${variety} ${coin}`, `${year}${mint.toLowerCase()} ${coin.slice(0, 3)}`, `${coin.toUpperCase()} ${year.slice(2)}`,
      `${coin.slice(0, 1)}${coin.slice(2)} ${year}`, `${year} ${coin}s ${variety}`,
    ];
    made.push(shapes[at % shapes.length], shapes[(at * 4 + 1) % shapes.length]);
  });
  thin(of("families"), 4).forEach((name) => made.push(value(text(name), "name")));
  thin(of("series"), 7).forEach((name) => made.push(value(text(name), "name").toLowerCase()));
  thin(of("glossary"), 5).forEach((name, at) => {
    const term = value(text(name), "term");
    made.push(at % 3 === 2 ? term.slice(0, Math.max(3, term.length - 2)) : term);
  });
  thin(of("alterations"), 2).forEach((name) => made.push(value(text(name), "name")));
  // Words from the middle of the prose.
  thin(of("issues"), 9).forEach((name) => {
    const words = (text(name).match(/ask = "([^"]*)"/)?.[1] ?? "").split(" ");
    made.push(words.slice(2, 6).join(" "));
  });
  return [...new Set([...LISTED, ...made].map((query) => query.replaceAll(/[\r\n]/g, " ")))];
}
