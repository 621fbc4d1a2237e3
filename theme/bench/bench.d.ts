/** What the bench knows of a country's coins, as `generator/bench/` writes it, and what an examiner's record holds. */

/** A country's shard, `bench/know/COUNTRY.js`: `Tellmark.shelve("us", JSON.parse('…'))`. */
interface CountryKnowledge {
  /** `us` */
  key: string;
  title: string;
  /** What statements stand on, in words: `Common practice`, or a source with the place in it and whether it was read. */
  bases: string[];
  /** Every entry that something here comes from, by id. */
  entries: Record<string, KnownEntry>;
  series: Record<string, KnownSeries>;
  checks: KnownCheck[];
  /** By id, such as `issues/us/dime/1916-d`. */
  issues: Record<string, KnownIssue>;
}

interface KnownEntry {
  title: string;
  /** Page below the site's folder. */
  page: string;
  /** Of the entry's file, lower-case hex. */
  sha256: string;
  /** `2026-04-18`, or empty. */
  reviewed: string;
  /** Invented, for demonstration. */
  demo: boolean;
}

interface KnownSeries {
  title: string;
  denomination: string;
  standards: KnownStandard[];
}

/** What the law asked of one piece in the years `from..=to`. */
interface KnownStandard {
  from: number;
  to: number;
  weight: KnownWeight | null;
  alloy: KnownAlloy | null;
  /** mm */
  diameter: number | null;
  /** mm */
  thickness: number | null;
  edge: string;
  axis: "coin" | "medal" | "";
  /** What the whole stands on: a place in `bases`. */
  basis: number;
}

interface KnownWeight {
  /** g */
  grams: number;
  /** g, the permitted deviation. */
  deviation: number;
  /** The law read states the deviation. Otherwise it is the usual allowance of the generator. */
  stated: boolean;
  /** g, where honest wear commonly ends. */
  worn: number;
  /** As the law puts it. */
  words: string;
  basis: number;
}

interface KnownAlloy {
  /** `silver 900, copper 100` */
  words: string;
  /** Parts per thousand by chemical symbol. */
  parts: Record<string, number>;
  /** g/cm³ and how far it may lie off; null where a part's density is not on file. */
  density: number | null;
  give: number | null;
}

interface KnownCheck {
  id: string;
  /** Id of the entry that states it. */
  from: string;
  ask: string;
  /** Findings of checks with one cause count once. A measurement's own is its quantity. Empty: independent. */
  cause: string;
  decisive: boolean;
  magnification: number | null;
  light: string;
  tool: string;
  /** A measured check has a quantity and no findings. */
  quantity: Quantity | "";
  /** Of a tilt `base-line` or `centre`, of an offset `line` or `points`; empty for any other check. */
  against: string;
  unit: string;
  findings: { say: string; basis: number }[];
  /** Of a measured check. */
  basis: number | null;
}

type Quantity = "weight" | "diameter" | "thickness" | "density" | "tilt" | "offset" | "die-axis";

interface KnownIssue {
  title: string;
  page: string;
  series: string;
  year: number;
  /** As the date list names it: `1916-D`. */
  row: string;
  /** Place in the series' standards, or null. */
  standard: number | null;
  /** `genuine` first. */
  hypotheses: KnownHypothesis[];
  checks: PlacedCheck[];
  /** Signs of the true dies. */
  signs: { text: string; place: string; at: FacePoint | null; basis: number }[];
  /** Coins that could have been made into this one, likeliest first. */
  hosts: string[];
  /** Pictures that show something on it. */
  pictures: KnownPicture[];
  /** Ids of all entries this rests on. */
  entries: string[];
}

interface KnownHypothesis {
  /** `genuine`, `family:us/…`, `alteration:mark-added` */
  key: string;
  kind: "genuine" | "family" | "alteration";
  title: string;
  /** Id, empty for genuine. */
  entry: string;
  /** Of an alteration as recorded on this issue. */
  hosts: string[];
}

interface FacePoint {
  face: "obverse" | "reverse";
  /** Hours, 0 to 12. */
  clock: number;
  /** 0 centre, 1 rim. */
  reach: number;
  about: boolean;
}

interface PlacedCheck {
  /** Place in `checks`. */
  check: number;
  /** The look's number on the issue's page; null if it stands there without one. */
  number: number | null;
  /** In words; may be empty. */
  place: string;
  at: FacePoint | null;
  /** For each finding, who expects it how: place in `hypotheses`, and a word or a count of k in n. */
  expect: [number, Expected][][];
  /** Of a measured check, in its unit. */
  ranges: [number, KnownRange][];
}

type Expected = "always" | "usual" | "sometimes" | "seldom" | "never" | [number, number];
type KnownRange = { low: number; high: number; /** Of a weight: what a piece worn nearly smooth may come to. */ tail?: number } | { mean: number; sd: number; tail?: undefined };

interface KnownPicture {
  /** As the viewer is asked for it: `issues/us/dime/1916-d/mark`. */
  id: string;
  /** In short: `mark`, or `Harbour transfer dies: suspect 1911` where another entry shows it. */
  name: string;
  /** Page-sized copy below the site's folder. */
  src: string;
  alt: string;
  /** Ids of checks. */
  shows: string[];
}

/** `bench/know/site.js`: `Tellmark.shelve("site", …)`. */
interface SiteKnowledge {
  /** First 16 hex digits of the sha256 over the entries' sums: tells one state of the knowledge from another. */
  revision: string;
  program: string;
  countries: { key: string; title: string }[];
  /** Alloys and metals a density is compared with, lightest first. */
  alloys: { words: string; note: string; parts: Record<string, number>; density: number; give: number; basis: string }[];
  /** Groups of metals that a density does not tell apart, and where they lie, in g/cm³. */
  inseparable: { low: number; high: number; words: string }[];
}

/** Name of a sentence that the page holds, and what stands in its gaps: a sentence in its turn, or a value. */
type BenchSaying = [name: string, ...values: (string | number | BenchSaying)[]];

/**
 * One coin's examination, kept on this machine and in files. The published JSON Schema is `bench/record.schema.json`.
 * Keys that other software added are kept, wherever they stand.
 * Numbers are in grams, millimetres, degrees, degrees Celsius, g/cm³; what was typed stands beside them.
 */
interface ExaminationRecord {
  format: "tellmark-examination";
  version: 1;
  /** UUID */
  id: string;
  /** ISO 8601, UTC. */
  made: string;
  changed: string;
  /** `at`: when it was last said. */
  coin: { issue: string; title: string; page: string; reference: string; description: string; at: string };
  examiner: { name: string; reference: string; at: string };
  /** The state of the knowledge when it was last worked on. */
  knowledge: { revision: string; program: string; entries: { id: string; title: string; sha256: string; reviewed: string }[] };
  /** Newest answer to each check; earlier ones in `earlier`. */
  findings: RecordedFinding[];
  measurements: RecordedMeasurement[];
  /** Support as it stood when the record was last changed; empty before any finding. */
  support: RecordedSupport[];
  contradictions: { hypothesis: string; title: string; check: string; say: string }[];
  opinion: RecordedOpinion | null;
  pictures: RecordedPicture[];
  /** What a later one took the place of, or was taken back, and the loser of each difference in a merge. */
  earlier: EarlierState[];
  /** Other records of the same coin that were merged into this one. */
  also?: { id: string; made: string }[];
}

interface EarlierState {
  /** `support`: `RecordedWeighing`. `more`: one key that other software added. */
  what: "finding" | "measurement" | "opinion" | "coin" | "examiner" | "picture" | "support" | "more";
  /** When it ceased to hold. */
  at: string;
  was: any;
}

interface RecordedWeighing {
  at: string;
  knowledge: ExaminationRecord["knowledge"];
  support: RecordedSupport[];
  contradictions: ExaminationRecord["contradictions"];
}

interface RecordedFinding {
  /** `FROM#ID`: the entry that states the check, and the check's id. */
  check: string;
  ask: string;
  /** Place of the finding in the check; null for the two answers that are none. */
  finding: number | null;
  answer: "seen" | "not seen" | "cannot tell";
  /** The finding's words at the time. */
  say: string;
  basis: string;
  /** Where on the coin, in words: `reverse, near the rim at half past four`. */
  place?: string;
  /** What it spoke for at the time, in words: `Mark added, rather than genuine`; empty if it told little. */
  speaks?: string;
  note: string;
  /** Where a photograph of it is kept: a file's name, a shelf mark. */
  photo: string;
  at: string;
}

interface RecordedMeasurement {
  id: string;
  quantity: Quantity | "magnet" | "edge";
  /** In the unit of the quantity; null where only `words` say it. */
  value: number | null;
  /** Standard uncertainty, same unit. */
  uncertainty: number | null;
  unit: string;
  /** As typed: name of the reading, text and unit. */
  readings: { name: string; typed: string; unit: string }[];
  /** How it was got: `balance`, `hung in water`, `vessel on the pan`, `photograph`, `calipers`. */
  method: string;
  words: string;
  at: string;
}

interface RecordedSupport {
  hypothesis: string;
  title: string;
  /** log10 of the likelihood ratio against genuine. */
  log10: number;
  words: string;
}

interface RecordedOpinion {
  opinion: "genuine" | "forged" | "altered" | "undecided";
  /** Hypothesis key of the family or alteration; empty if none is named. */
  as: string;
  title: string;
  host: string;
  reasons: string;
  /** What the page warned of when it was given. */
  warnings: string[];
  at: string;
}

interface RecordedPicture {
  name: string;
  /** px */
  width: number;
  height: number;
  /** What was measured or marked on it, in words and numbers. */
  words: string;
  /** Marks of the instrument that made it, for reopening. */
  marks: unknown;
  at: string;
}

/** `shelf.js`: what the site knows, fetched script by script. */
interface BenchShelf {
  /** A country's knowledge, by its key or by the id of any entry of it, once its script is there; null if it cannot be read. */
  country(id: string, done: (knowledge: CountryKnowledge | null) => void): void;
  site(done: (knowledge: SiteKnowledge | null) => void): void;
  /** What the page's address asks for: `#issues/us/dime/1916-d`, `#series/us/…`, `#record=UUID`. */
  asked(): { issue: string; series: string; record: string };
}

/** `record.js`: pure. `now` and every `at` are given, in ISO 8601, UTC: `2026-04-18T10:05:00.000Z`. */
interface BenchRecord {
  fresh(issue: string, knowledge: CountryKnowledge, site: SiteKnowledge, id: string, now: string): ExaminationRecord;
  /** Text of a file → a record, or why not, in words for the examiner. Never throws. */
  read(text: string): ReadRecord;
  /** A file of one record or of an array of them; a member that is a text is read as a file of its own. Never throws, never empty. */
  readAll(text: string): ReadRecord[];
  /** What makes a record one that could not be read again; empty if nothing. */
  check(record: ExaminationRecord): string[];
  /** Throws with the first trouble in words where the record could not be read again: no NaN is ever stored. */
  write(record: ExaminationRecord): string;
  /** Each returns a new record; what it takes the place of goes to `earlier`. The same answer again changes nothing. */
  answer(record: ExaminationRecord, finding: RecordedFinding): ExaminationRecord;
  unanswer(record: ExaminationRecord, check: string, now: string): ExaminationRecord;
  measure(record: ExaminationRecord, measurement: RecordedMeasurement): ExaminationRecord;
  unmeasure(record: ExaminationRecord, id: string, now: string): ExaminationRecord;
  opine(record: ExaminationRecord, opinion: RecordedOpinion): ExaminationRecord;
  describe(record: ExaminationRecord, coin: Partial<ExaminationRecord["coin"]>, examiner: Partial<ExaminationRecord["examiner"]>, now: string): ExaminationRecord;
  attach(record: ExaminationRecord, picture: RecordedPicture): ExaminationRecord;
  detach(record: ExaminationRecord, name: string, now: string): ExaminationRecord;
  /** The support as it now stands, and the knowledge it rests on. A weighing by another state of the knowledge goes to `earlier`. */
  weigh(record: ExaminationRecord, support: RecordedSupport[], contradictions: ExaminationRecord["contradictions"], knowledge: CountryKnowledge, site: SiteKnowledge, now: string): ExaminationRecord;
  /** Two states of one record, or two records of one coin, into one that has all of both. The record made first gives the id. */
  merge(one: ExaminationRecord, other: ExaminationRecord): ExaminationRecord;
  /** Entries that are not as they were when the record was last worked on. */
  changes(record: ExaminationRecord, knowledge: CountryKnowledge): ChangedEntry[];
  /** A finding or a measurement changed after the opinion was given. */
  stale(record: ExaminationRecord): boolean;
}

interface ReadRecord {
  record: ExaminationRecord | null;
  troubles: string[];
  /** Made by a later Tellmark. */
  later: boolean;
  /** What was read, as it stood. */
  text: string;
}

interface ChangedEntry {
  id: string;
  title: string;
  what: "changed" | "gone" | "new";
  /** Days of review then and now; empty where there was none. */
  was: string;
  now: string;
}

/** `drawer.js`: records kept in this browser. Every failure is told in words; nothing is lost in silence. */
interface BenchDrawer {
  /** Newest first. What cannot be read is listed with its trouble, and kept. */
  list(): DrawerLine[];
  /** Null and a reason if it is not there or cannot be read. */
  open(id: string): { record: ExaminationRecord | null; trouble: string };
  /** Empty, or what went wrong. Where another tab wrote the record since, both are merged and `watch` is told. */
  save(record: ExaminationRecord): string;
  remove(id: string): string;
  /** The stored text, readable or not; null if there is none. */
  text(id: string): string | null;
  /** Puts a text back as it was. Empty, or what went wrong. */
  putBack(id: string, text: string): string;
  /** Told of the record when another tab changed it, or when a save had to merge. The page must go on with the one it is given. */
  watch(id: string, done: (record: ExaminationRecord) => void): void;
  /** Why nothing can be kept in this browser; empty if it can. */
  trouble(): string;
  /** `A-117-2026-05-04.json`: by the coin's reference and the day of the last change. */
  fileName(of: { title: string; reference: string; changed: string }): string;
  /** Hands a text to the examiner as a file. */
  give(name: string, text: string): void;
  /** A new UUID. */
  newId(): string;
  /** Id of the examination that the other instruments pass their results to; empty if none is open. */
  current(): string;
  setCurrent(id: string): void;
}

interface DrawerLine {
  id: string;
  title: string;
  reference: string;
  changed: string;
  opinion: string;
  /** Id of the issue. */
  issue: string;
  /** Why it cannot be read; empty if it can. */
  trouble: string;
}

/**
 * `evidence.js`: pure. Logarithms are to base 10 unless said. No priors; nothing here is a chance of being genuine.
 *
 * A look's finding has a likelihood under each hypothesis from words and counts. A measured check is a look whose
 * findings are the ranges on file and "elsewhere": a hypothesis always shows its own range and never the others, and
 * one without a range, like "another false piece, not on file", expects each of them equally. The density within a
 * range is normal, or uniform convolved with the measurement's own normal uncertainty; "elsewhere" is uniform on a
 * plausible span. So no likelihood is zero, and one measurement never says more than one look can.
 */
interface BenchEvidence {
  /** Shares of a check's findings under one hypothesis, adding up to 1; never 0. Agrees with `generator/reckon/likelihood.rs`. */
  spread(written: (Expected | null)[]): number[];
  /** ENFSI (2015) words for a likelihood ratio given as log10: lower ≤ ratio < upper, read off the larger of the ratio and its inverse; empty below 2. */
  words(log10: number): string;
  /** The larger of the ratio and its inverse, to two figures. */
  ratio(log10: number): string;
  /** Bits. */
  entropy(p: number[]): number;
  /** Mutual information in bits between a finding and the hypotheses: shares[hypothesis][finding]; weights are equal unless given. */
  information(shares: number[][], weights?: number[]): number;
  /** Of a range at x, measured with standard uncertainty u > 0. */
  density(range: KnownRange, x: number, u: number): number;
  /** How many combined standard uncertainties x lies outside; 0 inside a range. */
  outside(range: KnownRange, x: number, u: number): number;
  /** Low and high end of a range; of a mean, so many standard deviations to either side. */
  reach(range: KnownRange, deviations: number): [number, number];
  /** Upper tail of the standard normal distribution. */
  tail(z: number): number;
  /** An issue's checks with their shares under each hypothesis, worked out once. */
  prepare(country: CountryKnowledge, issue: string): EvidenceCase;
  /** `answers` in the order of the case's checks. */
  weigh(it: EvidenceCase, answers: (EvidenceAnswer | null)[]): EvidenceWeighed;
  /** Unanswered checks, the most telling first; on a tie of a twentieth of a bit the cheap and non-contact first. */
  next(it: EvidenceCase, answers: (EvidenceAnswer | null)[], weighed: EvidenceWeighed): EvidenceAdvice[];
}

interface EvidenceCase {
  /** Genuine first, "another false piece" last. */
  hypotheses: { key: string; title: string }[];
  checks: EvidenceCheck[];
}

interface EvidenceCheck {
  /** `FROM#ID` */
  key: string;
  ask: string;
  cause: string;
  decisive: boolean;
  quantity: Quantity | "";
  /** What a tilt or an offset is against; see `KnownCheck`. */
  against: string;
  unit: string;
  /** 0 the eye or the glass; 1 something to compare with, turning, weighing; 2 calipers; 3 wetting, or a laboratory. */
  cost: number;
  /** Words of the findings; empty for a measured check. */
  say: string[];
  /** shares[hypothesis][finding], or [range, and elsewhere last]. */
  shares: number[][];
  /** never[hypothesis][finding] */
  never: boolean[][];
  /** Different ranges, and which of them is each hypothesis' own; -1 for none. */
  ranges: KnownRange[];
  own: number[];
  /** Where a piece that nothing is known of may plausibly lie. */
  span: [number, number];
  /** Shares of what may be found: of the findings, or of the steps of the span. */
  forecast: number[][];
}

/** Null: not answered. Without a finding or a value it counts nothing, as "not seen" and "cannot tell" do. */
interface EvidenceAnswer {
  finding?: number;
  /** In the unit of the check. */
  value?: number;
  /** Standard uncertainty, same unit. */
  uncertainty?: number;
}

interface EvidenceWeighed {
  /** log10 of each hypothesis' likelihood ratio against genuine; genuine is 0. */
  support: number[];
  /** What each check adds to that; null if it is unanswered. Findings of one cause share one voice. */
  parts: (number[] | null)[];
  /** Answers that count, by cause. */
  counted: Record<string, number>;
  /** Hypotheses, best supported first. */
  order: number[];
  /** Those less than a factor of 100 behind the best, best first; two at least. */
  standing: number[];
  /** "Never" seen, or measured more than three combined uncertainties outside. */
  contradictions: { hypothesis: number; check: number; say: string }[];
}

interface EvidenceAdvice {
  check: number;
  bits: number;
  /** It tells this hypothesis from those, most clearly first. */
  from: number;
  tells: number[];
  /** Answers of the same cause that are there already: a further one counts 1 / (times + 1). */
  times: number;
}

/** Name of a template of the page, and the values of its gaps. */
type ExaminationWarning = [name: string, values?: Record<string, string>];

/** `examination-case.js`: what an examination makes of a record. Pure. Looks and hypotheses are places in the case. */
interface BenchExamination {
  /** Measurements, the looks that the coin's page numbers, then each suspicion, folded. */
  groups(country: CountryKnowledge, issue: string): { kind: "measures" | "looks" | "suspicion"; title: string; looks: number[] }[];
  /** The newest measurement that a look takes. */
  measured(check: EvidenceCheck, record: ExaminationRecord): RecordedMeasurement | undefined;
  /** What was answered, as the evidence takes it. A finding whose words are no longer on file counts nothing, and its look is open again. */
  answers(it: EvidenceCase, record: ExaminationRecord): (EvidenceAnswer | null)[];
  /** What was found at a look, in words. */
  said(check: EvidenceCheck, record: ExaminationRecord): string;
  /** Which hypotheses a finding speaks for, and against, by a factor of two against genuine or more, where something is
   *  written of them: `Mark added, rather than genuine`. Empty if it tells little. */
  speaks(it: EvidenceCase, look: number, finding: number): string;
  /** `moderate support for Grey castings over genuine` */
  phrase(log10: number, title: string): string;
  /** The parts of a hypothesis' support against another, strongest first. */
  drivers(weighed: EvidenceWeighed, who: number, against?: number): { check: number; log10: number }[];
  /** Measurements that no look weighs: a magnet's pull, an edge, what no range is on file for. */
  besides(it: EvidenceCase, record: ExaminationRecord): RecordedMeasurement[];
  /** What speaks against giving an opinion. It warns, and forbids nothing. */
  warnings(it: EvidenceCase, given: (EvidenceAnswer | null)[], weighed: EvidenceWeighed, opinion: string, as: string): ExaminationWarning[];
  /** Reasons to begin from: what drives the opinion, each with its basis; `basis` is asked for that of a measured look. */
  reasons(it: EvidenceCase, record: ExaminationRecord, weighed: EvidenceWeighed, opinion: string, as: string, basis: (look: number) => string): string;
  /** The support as a record keeps it. */
  kept(it: EvidenceCase, weighed: EvidenceWeighed, basis: (look: number) => string): Pick<ExaminationRecord, "support" | "contradictions">;
  /** `a, b and c`; of many, the first three and how many more. */
  list(names: string[]): string;
  capital(text: string): string;
}

/** `examination-looks.js`: the looks as they stand in the page. */
interface BenchLooks {
  /** Places in the order of the page. */
  order: number[];
  node(look: number): HTMLElement;
  /** What is recorded of a look, into its fields. */
  fill(look: number, record: ExaminationRecord): void;
  /** Which are answered. */
  mark(given: (EvidenceAnswer | null)[]): void;
  /** Makes a look the current one, and brings it into sight if asked to. */
  go(look: number, move: boolean): void;
  current(): number;
}

/** What the looks tell the page. */
interface LooksHeard {
  /** A finding's place, `not seen` or `cannot tell`. */
  chosen(look: number, value: string): void;
  /** Written into the note, or where the photograph is kept. */
  written(look: number, text: { note?: string; photo?: string }): void;
  /** `field`: the look's elements by their class. */
  measured(look: number, field: Record<string, any>): void;
}

interface BenchGlobal {
  shelf: BenchShelf;
  /** `shelf.js`: called by the shards. */
  shelve(key: string, knowledge: CountryKnowledge | SiteKnowledge): void;
  record: BenchRecord;
  drawer: BenchDrawer;
  evidence: BenchEvidence;
  examination: BenchExamination;
  /** `filling.js`: the page's element of an id. */
  byId(id: string): any;
  /** `filling.js`: a sentence of the page's template `sentences`, its gaps filled. */
  say(...saying: BenchSaying): string;
  /** `filling.js`: a copy of the one element of the page's template `make-NAME`, a value in each gap; `click` is for its first button. */
  make(name: string, values?: Record<string, any>, click?: (() => void) | false): any;
  /** `filling.js`: a new element; `set` is its class, or its properties. */
  el(name: string, set: string | Record<string, any>, ...inside: (Node | string)[]): any;
  /** `filling.js`: what is given stands in the place of whatever was there. */
  put(place: Element, ...inside: (Node | string)[]): void;
  /** `filling.js`: those of the parts that there are, in one text. */
  joined(between: string, ...parts: (string | number | false | null | undefined)[]): string;
  /** `filling.js`: the way from this page to the site's folder. */
  root: string;
  /** `examination-looks.js`: elements of the examination's page by id, without its `exam-`. */
  page: Record<string, any>;
  looks(it: EvidenceCase, country: CountryKnowledge, issue: string, heard: LooksHeard): BenchLooks;
  /** `drawer.js`: "This entry has changed since: …", or null if nothing has. */
  changesNode(record: ExaminationRecord, knowledge: CountryKnowledge): HTMLElement | null;
  /** `examination-support.js`: draws the panel of support, once for a case; then after every change. `go` brings a look into sight. */
  supportPanel(it: EvidenceCase, go: (look: number) => void): (record: ExaminationRecord, weighed: EvidenceWeighed, advice: EvidenceAdvice[]) => void;
  [more: string]: any;
}
