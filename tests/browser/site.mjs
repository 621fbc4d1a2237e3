// The tool and the site it builds, made once for each run of the tests.

import { execFileSync } from "node:child_process";
import { existsSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

export const project = fileURLToPath(new URL("../..", import.meta.url));
export const entries = process.env.TELLMARK_ENTRIES ?? join(project, "entries");

/** The binary: the newest build that is there, or the one named. */
export function tool() {
  const built = ["release", "debug"].map((kind) => join(project, "target", kind, "tellmark"));
  const path = process.env.TELLMARK_BIN ?? built.find(existsSync);
  if (!path) throw new Error("build the tool first: cargo build");
  return path;
}

export function run(args, input = "") {
  return execFileSync(tool(), args, { input, encoding: "utf8", maxBuffer: 1 << 28 });
}

/** A site built from the project's entries, unless one is named. */
export function site() {
  if (process.env.TELLMARK_SITE) return process.env.TELLMARK_SITE;
  const out = join(project, "tests/browser/out/site");
  run(["compile", "--entries", entries, "--out", out, "--format", "json"]);
  return out;
}
