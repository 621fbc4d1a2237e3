/** What the scripts of the overlay share, and the file that keeps its landmarks. Places are picture pixels. */
interface Overlay {
  format: "tellmark-overlay";
  version: 1;
  /** The first, and the second that is brought onto it. Size 0: none was open. */
  pictures: { name: string; width: number; height: number; sha256: string }[];
  mirrored: boolean;
  landmarks: OverlayLandmark[];
  marks: OverlayMark[];
}
type OverlaySide = "first" | "second";
type OverlayList = "landmarks" | "marks";
interface OverlayLandmark {
  /** Null where it is not set yet. */
  first: Spot | null;
  second: Spot | null;
  /** Left out of the fit. */
  off: boolean;
}
interface OverlayMark {
  first: Spot | null;
  second: Spot | null;
  /** Empty until it is said. */
  kind: "" | "hollow" | "lump" | "line";
  /** Looked for in the other picture: found at the same place, not found, not looked for yet. */
  state: "open" | "same" | "missing";
}
interface OverlayChoice {
  list: OverlayList;
  at: number;
}

/** As a canvas takes it. */
type Plane = [number, number, number, number, number, number];

/** A picture in the overlay: `levels[k]` is smaller by 2^k. */
interface LaidPicture {
  name: string;
  /** Of a reference picture: its file below the site's folder. */
  src: string;
  width: number;
  height: number;
  levels: ImageBitmap[];
  /** Drawn from disk, so that a canvas with it cannot be read back. */
  sealed: boolean;
  /** Of its edges only, on a scaled copy. */
  edges: { canvas: HTMLCanvasElement; scale: number } | null;
  key: number;
}

/** The fit with its landmarks by their place in the list. `map` brings the second picture onto the first. */
interface OverlayFit {
  why: string;
  used: number[];
  map?: Plane;
  scale: number;
  degrees: number;
  mirrored: boolean;
  rms: number;
  redundancy: number;
  better: number | null;
  outlier: { at: number; rms: number } | null;
  /** Residual of a landmark. */
  of(at: number): number | undefined;
}

/** Moved and enlarged by pointer, fingers, wheel and keys. */
interface OverlayView {
  host: HTMLElement;
  redraw(): void;
  fit(): void;
  zoom(by: number, at?: Spot): void;
  show(picture: { width: number; height: number }): void;
  /** Brings a place into the middle if it is out of sight. */
  look(at: Spot): void;
  /** Screen pixels of a picture pixel. */
  scale(): number;
  screen(at: Spot): Spot;
  view(): OverlayShot;
}
/** Size of a canvas, the map from the picture to it, its pixels for one of the screen. */
interface OverlayShot {
  width: number;
  height: number;
  map: Plane;
  k: number;
}
interface OverlayHooks {
  paint(ctx: CanvasRenderingContext2D, map: Plane, k: number): void;
  tap?(at: Spot): void;
  /** What moves when a drag begins here; null moves the picture. */
  grab?(at: Spot): ((at: Spot, done: boolean) => void) | null;
  hover?(at: Spot): void;
  /** Whether the key meant something. */
  key?(event: KeyboardEvent): boolean;
}

/** The state of the page, and what changes it. */
interface OverlayDesk {
  overlay: Overlay;
  found: OverlayFit;
  chosen: OverlayChoice | null;
  pictures: (LaidPicture | null)[];
  /** Where the cross-hair of each picture is. */
  cross: Spot[];
  panes: OverlayView[];
  mode: string;
  /** The slider's place in each mode. */
  fraction: Record<string, number>;
  swapped: boolean;
  /** Changes the overlay; a change of the same `what` again is undone with it. */
  change(what: string, how: () => void): void;
  /** −1 undoes, 1 does again. */
  step(way: number): void;
  canStep(way: number): boolean;
  /** The next change is undone on its own. */
  pause(): void;
  choose(which: OverlayChoice | null): void;
  remove(which: OverlayChoice | null): void;
  name(which: OverlayChoice): string;
  say(...words: (string | Node)[]): void;
  /** Another overlay, with nothing to undo. */
  set(overlay: Overlay): void;
  /** Keeps an overlay for when its pictures are opened. */
  aside(overlay: Overlay): void;
  /** Everything is drawn and written anew. */
  refresh(): void;
  /** A picture was hung in one of the two places. */
  hung(number: number): void;
  give(files: File[], number: number): void;
  fromSite(path: string, number: number, name: string): void;
}

interface OverlayTools {
  SIDES: readonly ["first", "second"];
  KINDS: Record<string, string>;
  /** Least, most and first value of the slider, what it is called, its unit. */
  MODES: Record<string, [number, number, number, string, string]>;
  desk: OverlayDesk;
  fresh(): Overlay;
  read(body: string): { overlay: Overlay | null; why: string };
  bring(overlay: Overlay): OverlayFit;
  /** Whether the landmarks allow to say that a mark is at the same place, and if so how far off it may lie at a place of the
   *  first picture, px; NaN where that is too far to tell anything. */
  trust(overlay: Overlay, found: OverlayFit): { why: string; limit(at: Spot): number };
  /** A mark by itself: `far` is how far apart its two places lie, px of the first picture. */
  judge(overlay: Overlay, found: OverlayFit, mark: OverlayMark): { is: "same" | "off" | "untold" | "eye" | "missing" | "open"; far: number; words: string };
  /** How many marks of each outcome of `judge`, and all of it in words. */
  repeated(overlay: Overlay, found: OverlayFit): { same: number; off: number; eye: number; untold: number; missing: number; words: string };
  /** One and the same picture: by its bytes; where their sum is not known, by name and size. */
  alike(one: Overlay["pictures"][0], other: Overlay["pictures"][0]): boolean;
  /** Under which name what is set on two pictures is kept. */
  slot(overlay: Overlay): string;
  words(overlay: Overlay, found: OverlayFit, shown: string): string[];
  turn(found: OverlayFit): string;
  /** Name of a mark: a, b, … z, aa. */
  letter(at: number): string;
  /** Texts in a PNG behind its header, as iTXt chunks (ISO/IEC 15948). */
  withText(png: Uint8Array, texts: [string, string][]): BlobPart[];
  rest(): Promise<unknown>;
  /** `read`: its pixels are read back. */
  sheet(width: number, height: number, read?: boolean): CanvasRenderingContext2D;
  /** The picture and its halves, quarters, …, down to the size of a screen. */
  levels(bitmap: ImageBitmap, sealed: boolean): Promise<ImageBitmap[]>;
  draw(ctx: CanvasRenderingContext2D, picture: LaidPicture, map: Plane): void;
  /** `shape` −1 is a ring. `k` as in `OverlayShot`. */
  mark(ctx: CanvasRenderingContext2D, at: Spot, shape: number, label: string, k: number, how?: { lit?: boolean; faint?: boolean; crossed?: boolean }): void;
  /** A line seen on any picture. */
  rule(ctx: CanvasRenderingContext2D, from: Spot, to: Spot, wide: number): void;
  viewer(host: HTMLElement, hooks: OverlayHooks): OverlayView;
  edges(picture: LaidPicture): Promise<{ canvas: HTMLCanvasElement; scale: number }>;
  stage(seen: () => { lay: Plane; marks: boolean; scale: number }): {
    paint(ctx: CanvasRenderingContext2D, map: Plane, k: number): void;
    /** What a view shows, not smaller than a page's width, with its words in a strip below. */
    picture(view: OverlayShot, lines: string[]): HTMLCanvasElement;
    /** How many times as long as they are residuals are drawn, so that they can be seen. */
    lengthening(): number;
  };
}
