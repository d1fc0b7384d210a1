/**
 * The vocabulary of errors: what the domain reports when it cannot do what was asked. `src/web/edge/errors.ts` maps
 * each code to a status, a page, a fragment or JSON. Anything thrown that is not a `Problem` is a bug: it is logged,
 * and its text is never shown.
 */
export type ProblemCode =
  | "unreadable" // not in the form that was asked for, so nothing in it could be read
  | "invalid" // read, but something in it cannot be so: `issues` says what
  | "too-large"
  | "sign-in-needed"
  | "forbidden"
  | "not-found"
  | "changed" // someone else changed it in the meantime
  | "version-needed" // a change that does not say which version it is about
  | "too-many" // asked too often
  | "unavailable"; // works again later

/** One error: where it is (`log.2.added_g`; "" is the whole) and what would be right. */
export interface Issue {
  path: string;
  message: string;
}

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
