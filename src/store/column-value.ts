import type { Param } from "./sql.ts";
import { keptText } from "./text.ts";

/** A field as SQLite holds it: truths as 0 and 1, lists and objects as JSON. */
export function columnValue(value: string | number | boolean | object | null): Param {
  if (typeof value === "string") return keptText(value);
  if (typeof value === "boolean") return value ? 1 : 0;
  return typeof value === "object" && value !== null ? JSON.stringify(value) : value;
}
