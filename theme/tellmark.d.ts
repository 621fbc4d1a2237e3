/** The shape of the one global that the classic scripts share. */

interface TellmarkHit {
  /** Below the site's folder; a check has its anchor. */
  url: string;
  title: string;
  note: string;
  /** The kind, in words. */
  kind: string;
  /** It is invented, for demonstration. */
  demo: boolean;
  /** As `tellmark find` gives it. */
  score: number;
}

/** Either scripts to add first, or documents found. */
interface TellmarkAnswer {
  wait: string[];
  hits: TellmarkHit[];
}

interface TellmarkManifest {
  documents: number;
  /** How many of them are issues; these come first. */
  issues: number;
  /** Average length of each field in tokens. */
  average: number[];
  weights: number[];
  begun: number;
  slipped: number;
  tokens: number;
  steps: number;
  /** Logarithms that double precision, rounded, gets wrong: documents of a term, and the weight. */
  odd: [number, number][];
  stop: string;
  kinds: string[];
  /** First terms of the shards of names, and of prose. */
  t: string;
  b: string;
  /** Lengths of words there are lists of. */
  w: number[];
  /** First document of each block. */
  d: number[];
}

interface TellmarkGlobal {
  terms(text: string): string[];
  shard(name: string, data: any): void;
  arrived?: (name: string) => void;
  find(query: string, limit: number): TellmarkAnswer;
  decode(text: string): { docs: Uint32Array; counts: Uint32Array; steps: Uint8Array };
  readRecent(text: string | null): { path: string; title: string }[];
  addRecent(list: { path: string; title: string }[], now: { path: string; title: string }): { path: string; title: string }[];
  remembered(key: string): string | null;
  remember(key: string, value: string): void;
}

interface Window {
  /** Begun empty by whichever script comes first, so it cannot be declared whole; each script says what it takes it for. */
  Tellmark: any;
}
