import { Conflict, ConstraintFailed } from "./errors.ts";
import { guard, type Repeat, type Scope, type Submission } from "./scope.ts";
import type { Statement } from "./sql.ts";

interface VersionedChange<Current> extends Submission {
  /** Run in one batch. One of them must fail when someone else was first: `atVersion`, or a primary key. */
  statements: readonly Statement[];
  /** The constraint that fails then, as `ConstraintFailed` names it; "guard" unless said. */
  taken?: string;
  /** Reads what is stored: at a version, where one is given and versions are kept, else now. */
  read: (id: string, version?: number) => Promise<Current>;
}

/**
 * Makes one change of something that counts its versions, and gives what is stored then. The same press of a button
 * arriving twice changes nothing and gives what the first one stored (`repeated`). Throws `Conflict` with what is there
 * when someone else was first, or when the form comes back with something else in it.
 */
export async function versionedChange<Current>(
  scope: Scope,
  { statements, taken = "guard", read, ...submission }: VersionedChange<Current>,
): Promise<{ current: Current; repeated: boolean }> {
  try {
    const repeat = await scope.change(statements, submission);
    const { subject_id, subject_version } = repeat ?? submission;
    const current = sameContent(repeat, await read(subject_id, subject_version));
    return { current, repeated: repeat !== null };
  } catch (error) {
    if (error instanceof ConstraintFailed && error.what === taken)
      throw new Conflict(await read(submission.subject_id));
    throw error;
  }
}

/** Gives `stored` back; throws `Conflict` with it when the same submit had stored something else before. */
export function sameContent<Stored>(repeat: Repeat | null, stored: Stored): Stored {
  if (repeat === null || repeat.same_content) return stored;
  throw new Conflict(stored, "This form was saved before, with something else in it. Look at what was saved first.");
}

/** Undoes its whole batch unless the row of `table` with the columns `of` is at `version`; 0: not there. */
export function atVersion(table: string, version: number, of: Readonly<Record<string, string>> = {}): Statement {
  const conditions = ["workspace_id = :workspace", ...Object.keys(of).map((name) => `${name} = ?`)];
  return guard(`coalesce((SELECT version FROM ${table} WHERE ${conditions.join(" AND ")}), 0) = ?`, [
    ...Object.values(of),
    version,
  ]);
}
