import { Problem } from "../core/problem.ts";
import { insertRows } from "./bulk.ts";
import { ConstraintFailed, notFound } from "./errors.ts";
import { takeBack, type Undone } from "./import-undo.ts";
import { Pace } from "./pace.ts";
import type { Scope } from "./scope.ts";

/** An import: files that wait for answers or for confirmation, and what became of them. */
export interface StoredImport<FileSurvey, Answers, Report> {
  id: string;
  files: ({ name: string } & FileSurvey)[];
  /** By file. */
  answers: Answers[];
  /** What became of it; null while it waits. Its text is gone then, but for the rows that were refused. */
  report: Report | null;
  created_at: string;
  created_by: string;
  taken_at: string | null;
  taken_by: string | null;
  undone_at: string | null;
  undone_by: string | null;
  /** What was taken back, and what stayed; null while it stands. */
  undone: Undone | null;
}

/** Characters in one part of a file. */
const PART_CHARS = 400_000;
/** Imports in the list. */
const MOST_LISTED = 200;
/** The rows that were refused are kept beside the files, under numbers below zero. */
const refusedPart = (file: number) => -1 - file;

/** Uploaded fleet files, and what became of them. Surveying and reading them is not done here. */
export class Imports<FileSurvey, Answers, Report> {
  readonly #scope: Scope;

  constructor(scope: Scope) {
    this.#scope = scope;
  }

  /**
   * Stores files in place of those that still wait: a workspace has one import at a time that waits. One that is being
   * written stays. Until all of it is stored it names no file: what is left of one that was broken off is nobody's,
   * and goes with the next. Gives the id; throws `Problem` changed when another file came meanwhile.
   */
  async keep(
    files: readonly ({ name: string; text: AsyncIterable<string>; answers: Answers } & FileSurvey)[],
  ): Promise<string> {
    this.#scope.require("editor");
    const id = this.#scope.newId();
    const now = this.#scope.now();
    const said = files.map(({ text: _text, answers: _answers, ...file }) => file);
    await this.#scope.batch([
      {
        sql: `DELETE FROM imports WHERE workspace_id = :workspace AND report IS NULL AND NOT EXISTS (
          SELECT 1 FROM import_rows AS r WHERE r.workspace_id = imports.workspace_id AND r.import_id = imports.id)`,
      },
      {
        sql: `INSERT INTO imports (workspace_id, id, files, answers, report, created_at, created_by)
          VALUES (:workspace, ?, '[]', ?, NULL, ?, ?)`,
        params: [id, JSON.stringify(files.map(({ answers }) => answers)), now, this.#scope.actor],
      },
    ]);
    for (const [file, { text }] of files.entries()) await this.#keepText(id, file, text);
    const [kept] = await this.#scope.all(
      "UPDATE imports SET files = ? WHERE workspace_id = :workspace AND id = ? RETURNING id",
      [JSON.stringify(said), id],
    );
    if (kept === undefined) throw anotherCame();
    return id;
  }

  /** Stores the text of a file in small changes: all in one would keep others waiting. */
  async #keepText(import_id: string, file: number, text: AsyncIterable<string>): Promise<void> {
    const pace = new Pace();
    let number = 0;
    for await (const part of inParts(text)) {
      const row = { import_id, file, number: number++, text: part };
      await this.#scope.batch(insertRows("import_parts", [row])).catch((error: unknown) => {
        throw error instanceof ConstraintFailed && error.kind === "foreign-key" ? anotherCame() : error;
      });
      if (pace.due) await pace.rest();
    }
  }

  /** Throws `Problem` not-found. */
  async get(id: string): Promise<StoredImport<FileSurvey, Answers, Report>> {
    const [row] = await this.#scope.all<ImportRow>(
      `SELECT ${IMPORT_COLUMNS} FROM imports WHERE workspace_id = :workspace AND id = ?`,
      [id],
    );
    if (row === undefined) throw notFound("file");
    return importOf(row);
  }

  /** The imports that were taken, newest first. */
  async list(): Promise<StoredImport<FileSurvey, Answers, Report>[]> {
    const rows = await this.#scope.all<ImportRow>(
      `SELECT ${IMPORT_COLUMNS} FROM imports WHERE workspace_id = :workspace AND report IS NOT NULL
       ORDER BY taken_at DESC, id LIMIT ?`,
      [MOST_LISTED],
    );
    return rows.map((row) => importOf(row));
  }

  /** The text of one of its files, part by part. */
  async *text(id: string, file: number): AsyncGenerator<string> {
    for (let number = 0; ; number++) {
      const [part] = await this.#scope.all<{ text: string }>(
        `SELECT text FROM import_parts WHERE workspace_id = :workspace AND import_id = ? AND file = ? AND number = ?`,
        [id, file, number],
      );
      if (part === undefined) return;
      yield part.text;
    }
  }

  /** Stores the answers, and what another look showed where they say that the header is elsewhere. */
  async answer(
    id: string,
    answers: readonly Answers[],
    files: readonly ({ name: string } & FileSurvey)[],
  ): Promise<void> {
    this.#scope.require("editor");
    await this.#scope.all(
      `UPDATE imports SET answers = ?, files = ? WHERE workspace_id = :workspace AND id = ? AND report IS NULL
       RETURNING id`,
      [JSON.stringify(answers), JSON.stringify(files), id],
    );
  }

  /** Stores the outcome with the refused rows of each file, deletes the text, and keeps how the files were read. */
  async finish(
    id: string,
    report: Report,
    refused: readonly { file: number; text: string }[],
    mappings: readonly { headers: string; answers: Answers }[],
  ): Promise<void> {
    this.#scope.require("editor");
    const now = this.#scope.now();
    const parts = refused.flatMap(({ file, text }) =>
      partsOf(text).map((part, number) => ({ import_id: id, file: refusedPart(file), number, text: part })),
    );
    await this.#scope.batch([
      {
        sql: "UPDATE imports SET report = ?, taken_at = ?, taken_by = ? WHERE workspace_id = :workspace AND id = ?",
        params: [JSON.stringify(report), now, this.#scope.actor, id],
      },
      { sql: "DELETE FROM import_parts WHERE workspace_id = :workspace AND import_id = ?", params: [id] },
      ...insertRows("import_parts", parts),
      ...mappings.map(({ headers, answers }) => ({
        sql: `INSERT INTO import_mappings (workspace_id, headers, answers, used_at)
          SELECT :workspace, ?, ?, ? WHERE length(?) BETWEEN 1 AND 20000
          ON CONFLICT (workspace_id, headers) DO UPDATE SET answers = excluded.answers, used_at = excluded.used_at`,
        params: [headers, JSON.stringify(answers), now, headers],
      })),
    ]);
  }

  /** The refused rows of a file of an import that was taken. */
  refused(id: string, file: number): AsyncGenerator<string> {
    return this.text(id, refusedPart(file));
  }

  /** How files with these headers were read the last time; null for the first of them. */
  async mapping(headers: string): Promise<Answers | null> {
    const [row] = await this.#scope.all<{ answers: string }>(
      "SELECT answers FROM import_mappings WHERE workspace_id = :workspace AND headers = ?",
      [headers],
    );
    return row === undefined ? null : JSON.parse(row.answers);
  }

  /** Takes back what an import wrote; one that waits has written nothing. Throws `Problem` not-found. */
  async undo(id: string): Promise<void> {
    this.#scope.require("editor");
    const { report } = await this.get(id);
    if (report === null) return;
    const undone = await takeBack(this.#scope, id);
    await this.#scope.all(
      `UPDATE imports SET undone = ?, undone_at = ?, undone_by = ? WHERE workspace_id = :workspace AND id = ?
       RETURNING id`,
      [JSON.stringify(undone), this.#scope.now(), this.#scope.actor, id],
    );
  }

  /** Deletes an import that waits. */
  async remove(id: string): Promise<void> {
    this.#scope.require("editor");
    await this.#scope.all(
      "DELETE FROM imports WHERE workspace_id = :workspace AND id = ? AND report IS NULL RETURNING id",
      [id],
    );
  }
}

function anotherCame(): Problem {
  return new Problem("changed", "Another file was sent while this one was being stored. Send this one again.");
}

type ImportRow = Record<"id" | "files" | "answers" | "created_at" | "created_by", string> &
  Record<"report" | "taken_at" | "taken_by" | "undone_at" | "undone_by" | "undone", string | null>;

const IMPORT_COLUMNS =
  "id, files, answers, report, created_at, created_by, taken_at, taken_by, undone_at, undone_by, undone";

function importOf<FileSurvey, Answers, Report>(row: ImportRow): StoredImport<FileSurvey, Answers, Report> {
  const { files, answers, report, undone, ...rest } = row;
  return {
    ...rest,
    files: JSON.parse(files),
    answers: JSON.parse(answers),
    report: report === null ? null : JSON.parse(report),
    undone: undone === null ? null : JSON.parse(undone),
  };
}

function partsOf(text: string): string[] {
  return Array.from({ length: Math.ceil(text.length / PART_CHARS) }, (_, i) =>
    text.slice(i * PART_CHARS, (i + 1) * PART_CHARS),
  );
}

async function* inParts(text: AsyncIterable<string>): AsyncGenerator<string> {
  let part = "";
  for await (const piece of text) {
    part += piece;
    while (part.length > PART_CHARS) {
      yield part.slice(0, PART_CHARS);
      part = part.slice(PART_CHARS);
    }
  }
  if (part !== "") yield part;
}
