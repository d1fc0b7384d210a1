import type { Revision } from "../core/question/record.ts";
import { type Columns, number, text } from "./columns.ts";
import type { Scope } from "./scope.ts";

export const REVISION: Columns<Revision> = {
  version: number,
  created_at: text,
  created_by: text,
  updated_at: text,
  updated_by: text,
};

/** The revision of a row that is written now, by whoever acts. */
export function revisionNow(scope: Scope, version = 1, at = scope.now()): Revision {
  const by = scope.actor;
  return { version, created_at: at, created_by: by, updated_at: at, updated_by: by };
}
