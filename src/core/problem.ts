/**
 * The vocabulary of errors: what the domain reports when it cannot do what was asked. `src/web/edge/errors.ts` maps
 * each code to a status, a page, a fragment or JSON. Anything thrown that is not a `Problem` is a bug: it is logged,
 * and its text is never shown.
 */
export type ProblemCode =
  | "unreadable" // not in the expected form, so that nothing in it could be read
  | "invalid" // could be read, but `issues` says what in it is wrong
  | "too-large"
  | "no-room" // no room is left for more records
  | "sign-in-needed"
  | "forbidden"
  | "not-found"
  | "changed" // someone else changed it in the meantime
  | "version-needed" // a change that does not say which version it is about
  | "too-many" // asked too often
  | "unavailable"; // works again later

/** One error: the path of its field (`log.2.added_g`; "" for the whole) and a message that says what would be right. */
export interface Issue {
  path: string;
  message: string;
}

/** An error of the domain, for the person who asked. */
export class Problem extends Error {
  override readonly name = "Problem";
  readonly code: ProblemCode;
  readonly issues: readonly Issue[];

  /** `message` is shown to the person: it says what to do, and nothing about internals. */
  constructor(code: ProblemCode, message: string, issues: readonly Issue[] = []) {
    super(message);
    this.code = code;
    this.issues = issues;
  }
}
