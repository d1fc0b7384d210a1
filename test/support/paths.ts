import { join } from "node:path";

/** The repository's own folder. */
export const ROOT = join(import.meta.dirname, "../..");
export const DIST = join(ROOT, "dist");
