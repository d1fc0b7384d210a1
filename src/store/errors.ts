import { Problem } from "../core/problem.ts";
import type { Role } from "./roles.ts";

/** What can be wrong with the database itself. */
export type Fault = "busy" | "disk-full" | "read-only" | "corrupt" | "too-big" | "unreachable";

/**
 * What people read of each.
 *
 * @internal Called from outside by tests alone.
 */
export const FAULTS: Readonly<Record<Fault, string>> = {
  busy: "Someone else is writing just now. Nothing was changed; wait a moment, then try again.",
  "disk-full":
    "There is no room left where the records are kept, so this was not saved. What was saved before is safe.",
  "read-only":
    "The records cannot be written to here, so this was not saved. What was saved before is safe. The server's account needs permission to write to the data folder and to every file in it.",
  corrupt: "The file with the records is damaged. Stop the server and restore the latest backup.",
  "too-big": "That is too much to keep in one piece. Nothing was changed; send less at once.",
  unreachable: "The records cannot be reached just now. Nothing was changed; try again later.",
};

/** The database failed. Nothing of the change was stored; `cause` is the engine's own error, for the log. */
export class StoreFailure extends Problem {
  readonly fault: Fault;

  constructor(fault: Fault, cause: unknown) {
    super(fault === "too-big" ? "too-large" : "unavailable", FAULTS[fault]);
    this.fault = fault;
    this.cause = cause;
  }
}

/** Someone else changed it first. `current` is what is stored now, so that the page can show both. */
export class Conflict<Current> extends Problem {
  readonly current: Current;

  constructor(current: Current, message = "Someone else changed this, so yours is not saved yet.") {
    super("changed", message);
    this.current = current;
  }
}

/** The `Problem` for an id that is not in this workspace, whether or not it is in another one. */
export function notFound(what: string): Problem {
  return new Problem("not-found", `We can't find this ${what}. It may have been removed, or the address has a typo.`);
}

/** The `Problem` for something that this role may not do. */
export function forbidden(role: Role, needed: Role): Problem {
  const may = {
    owner: "You can do everything.",
    editor: "You can change the records, but not manage them.",
    viewer: "You can view only.",
  }[role];
  return new Problem("forbidden", `${may} Ask the person who gave you the link for ${needed} access.`);
}

/**
 * The schema refused a row. A driver throws it to a repository, which handles it where it expects it; otherwise it is a
 * bug. `what`: `table.column` of a broken UNIQUE, else the name of the constraint.
 */
export class ConstraintFailed extends Error {
  readonly kind: "unique" | "foreign-key" | "other";
  readonly what: string;

  constructor(message: string, cause: unknown) {
    super(message, { cause });
    const unique = /UNIQUE constraint failed: (?:index ')?([\w.]+)/.exec(message);
    this.kind = unique ? "unique" : message.includes("FOREIGN KEY") ? "foreign-key" : "other";
    this.what = unique?.[1] ?? /CHECK constraint failed: (\w+)/.exec(message)?.[1] ?? message;
  }
}
