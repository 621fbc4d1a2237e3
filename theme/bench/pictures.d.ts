/** What the instruments for photographs share. Coordinates are image pixels: x to the right, y down, (0, 0) the outer corner of the first pixel. */

type Spot = [number, number];

/** A number and its standard uncertainty. `bare` is NaN where it is not defined. */
interface Carried {
  value: number;
  u: number;
}

/** A refusal: `trouble` says in words why there is nothing else. */
interface Refused {
  trouble: string;
}

interface RimFit {
  trouble: "";
  /** Empty, or what to mind. */
  warning: string;
  shape: "circle" | "ellipse";
  /** Circle: centre x, centre y, radius. Ellipse: centre, mean of the semi-axes, and half their difference along 0° and 45°. */
  params: number[];
  /** Covariance of `params`, px². */
  cov: number[][];
  cx: number;
  cy: number;
  /** Longer semi-axis, or the radius. px */
  a: number;
  b: number;
  /** Of the longer axis from the x axis, radians, in (−π/2, π/2]. */
  turn: number;
  /** Standard uncertainty of `a`, px. */
  ua: number;
  /** Root mean square distance of the clicks from the rim, px. */
  rms: number;
  /** How much of the rim the clicks span, degrees. */
  arc: number;
  /** How far the coin leans away from the camera, degrees, its standard uncertainty, and the highest it may well be. 0 for a circle. */
  tilt: number;
  utilt: number;
  most: number;
}

/** `geometry.js`: pure. Angles in degrees unless said. */
interface Geometry {
  circle(points: Spot[], click: number): RimFit | Refused;
  ellipse(points: Spot[], click: number): RimFit | Refused;
  /** Taubin's algebraic circle: centre x, y, radius. */
  algebraicCircle(points: Spot[]): number[];
  /** Halíř and Flusser's direct ellipse: centre x, y, longer and shorter semi-axis, angle of the longer. */
  directEllipse(points: Spot[]): number[] | null;
  /** The tilt of the coin changes its outline by more than the clicks explain. */
  tilted(circle: RimFit | Refused, ellipse: RimFit | Refused): boolean;
  /** An image point seen from the coin's centre with the lean taken out, px. */
  flat(shape: string, params: number[], point: Spot): Spot;
  /** Back from there to the image. */
  seen(shape: string, params: number[], point: Spot): Spot;
  tiltOfAxes(a: number, b: number): number;
  /** Camera at `distance` radii, coin leaning by `tilt`: image of the near and the far rim, and how far the outline's middle lies off the centre, in radii. */
  perspective(distance: number, tilt: number): { near: number; far: number; off: number; semi: number };
  /** Clockwise from up, 0 to 360; NaN at the centre. */
  bearing(centre: Spot, point: Spot): number;
  place(centre: Spot, radius: number, up: number, point: Spot): { trouble: ""; bearing: number; hours: number; radius: number; reach: number } | Refused;
  distance(p: Spot, q: Spot): number;
  angle(one: [Spot, Spot], other: [Spot, Spot]): { trouble: ""; directed: number; undirected: number } | Refused;
  /** How far a stroke stands from upright on a base line; clockwise is positive, (−90, 90]. NaN for a line of no length. */
  lean(stroke: [Spot, Spot], base: [Spot, Spot]): number;
  offset(p: Spot, q: Spot, point: Spot): { trouble: ""; offset: number; along: number; foot: Spot } | Refused;
  /** Where the line p q meets the piece a b; `t` is 0 at a, 1 at b. */
  meets(p: Spot, q: Spot, a: Spot, b: Spot): { trouble: ""; t: number; hit: boolean; point: Spot } | Refused;
  up(lower: Spot, upper: Spot, reference: number): { trouble: ""; bearing: number; tilt: number; length: number; u: number } | Refused;
  dieAxis(obverseUp: number, obverseMark: number, reverseUp: number, reverseMark: number, nominal: number): { rotation: number; hours: number; deviation: number };
  circularMean(angles: number[]): { trouble: ""; mean: number; length: number; sd: number } | Refused;
  /** Reduces to [−180, 180). */
  turned(degrees: number): number;
  /** First-order propagation. `cov` may be the covariance of the first values; the rest are independent clicks. */
  carry(f: (values: number[]) => number, values: number[], cov: number[][], click: number): Carried;
}

/** What the first bytes of a file say it is. */
interface PictureFacts {
  trouble: string;
  /** `JPEG` */
  type: string;
  /** MIME type. */
  mime: string;
  /** As shown, after the camera's own note of rotation. px */
  width: number;
  height: number;
  /** To be told to the examiner. */
  notes: string[];
}

/** A picture ready to be shown. */
interface OpenPicture {
  name: string;
  type: string;
  width: number;
  height: number;
  notes: string[];
  bytes: number;
  /** Lower-case hex; empty where the browser cannot work it out or the picture is the site's own. */
  sha256: string;
  /** `blob:` or relative to the page. */
  url: string;
  bitmap: ImageBitmap;
}

/** A mark on the stage that can be chosen, dragged and nudged. */
interface StageMark {
  id: string;
  at: Spot;
  /** Read aloud: `rim 3`. */
  name: string;
  /** Written beside it; may be empty. */
  label: string;
  /** Class of its drawing. */
  look: string;
  fixed?: boolean;
}

/** A line on the stage; `d` is an SVG path in image coordinates. */
interface StageLine {
  d: string;
  look: string;
}

interface StageWishes {
  /** A click, or Enter at the cross in the middle; `over` is the mark that was under it. */
  place(at: Spot, over: string): void;
  /** While a mark moves, `done` false; at its end, true. */
  move(id: string, at: Spot, done: boolean): void;
  choose(id: string): void;
  remove(id: string): void;
  /** A file was dropped on it or pasted. */
  give(file: File): void;
}

interface Stage {
  show(picture: OpenPicture): void;
  marks(marks: StageMark[], lines: StageLine[]): void;
  choose(id: string): void;
  chosen(): string;
  /** Brings a place into the middle, with at least so many screen pixels for one of the image. */
  look(at: Spot, zoom?: number): void;
  fit(): void;
  /** Screen pixels of one image pixel. */
  zoom(): number;
  zoomBy(factor: number): void;
  /** Said to screen readers. */
  say(words: string): void;
  toImage(x: number, y: number): Spot;
  toScreen(at: Spot): Spot;
  viewer: any;
}

/** `glass.js` */
interface Glass {
  /** Pure: what the bytes of a file are, or why they are no picture to be opened. */
  sniff(bytes: Uint8Array, name: string): PictureFacts;
  /** A user's own file, read here and sent nowhere. */
  open(file: File): Promise<OpenPicture | Refused>;
  /** A picture of the site, by its address relative to the page. */
  site(url: string, name: string): Promise<OpenPicture | Refused>;
  close(picture: OpenPicture): void;
  stage(host: HTMLElement, wishes: StageWishes): Stage;
}

type MeasureKind = "place" | "tilt" | "turn" | "meets" | "offset" | "distance" | "angle";

interface Measure {
  id: string;
  kind: MeasureKind;
  /** Given by the examiner; empty: named by its kind and number. */
  name: string;
  /** Fewer than the kind needs: still being marked. */
  points: Spot[];
  /** It is the one that goes into the examination as the coin's tilt or offset of its kind. */
  counts?: boolean;
}

/** Marks on one photograph, as kept in this browser, in a file and in a record's picture. */
interface MarkedPhoto {
  format: "tellmark-marks";
  version: 1;
  picture: { name: string; width: number; height: number; bytes: number; sha256: string };
  issue: string;
  face: "obverse" | "reverse";
  shape: "circle" | "ellipse";
  /** Standard uncertainty of a click along x and along y, image px. */
  click: number;
  /** As typed; mm unless a unit follows. */
  diameter: string;
  rim: Spot[];
  /** One landmark at twelve o'clock, or the foot and the head of something upright. */
  topBy: "landmark" | "upright";
  top: Spot[];
  measures: Measure[];
}

interface Reckoned {
  id: string;
  name: string;
  trouble: string;
  /** Result with its expanded uncertainty. */
  words: string;
  quantity: "tilt" | "offset" | "";
  /** What it was measured against: `base-line` or `centre`, `line` or `points`; empty without a quantity. */
  against: string;
  value: number;
  u: number;
  unit: string;
  /** Of a place. */
  at: { hours: number; reach: number } | null;
}

interface ReckonedPhoto {
  rim: RimFit | Refused | null;
  /** The rim's shape says that the coin leans. */
  leans: boolean;
  /** Bearing of the coin's top on the flat coin; NaN if not known. */
  up: Carried;
  /** mm of a pixel; NaN if not known. */
  scale: number;
  results: Reckoned[];
}

/** `photo-measure-marks.js`: pure. */
interface PhotoMarks {
  KINDS: Record<MeasureKind, { title: string; against?: string; asks: string[] }>;
  fresh(issue: string): MarkedPhoto;
  read(text: string): { photo: MarkedPhoto | null; trouble: string };
  reckon(photo: MarkedPhoto, diameter: number | null): ReckonedPhoto;
  /** Where a place of the coin is in the image; null while rim or top are missing. */
  onImage(reckoned: ReckonedPhoto, clock: number, reach: number): Spot | null;
  /** What true dies and others show where this was measured. `lean`: for true, against it, or neither. */
  compare(result: Reckoned, issue: KnownIssue, country: CountryKnowledge, face: string): { lean: "true" | "false" | "even"; words: string }[];
  /** What a result can be passed on as, in words: `tilt on a base line`; empty if no check of the coin takes it. */
  counts(result: Reckoned, issue: KnownIssue, country: CountryKnowledge): string;
  /** A result as a record keeps it: rounded to the second digit of its standard uncertainty. */
  passed(result: Carried): Carried;
  /** The face that a picture's name or what it shows tells; empty if neither does. */
  faceOf(picture: KnownPicture, issue: KnownIssue, country: CountryKnowledge): MarkedPhoto["face"] | "";
  clock(hours: number): string;
}
