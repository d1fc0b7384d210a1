import { subHours } from "date-fns";
import { insertRows } from "./bulk.ts";
import { notFound } from "./errors.ts";
import type { Scope } from "./scope.ts";

/** An uploaded fleet file that waits for answers or for confirmation. */
export interface WaitingImport<Survey, Answers, Report> {
  id: string;
  files: { name: string; survey: Survey }[];
  /** By file. */
  answers: Answers[];
  /** What became of it; null while it waits. Its text is gone then. */
  report: Report | null;
  created_at: string;
  created_by: string;
}

/** Characters in one part of a file. */
const PART_CHARS = 400_000;
/** How long an abandoned file is kept. */
const KEPT_HOURS = 24;

/** Uploaded fleet files until they are imported. Surveying and reading them is not done here. */
export class Imports<Survey, Answers, Report> {
  readonly #scope: Scope;

  constructor(scope: Scope) {
    this.#scope = scope;
  }

  /**
   * Stores files in place of those that still wait, and deletes old reports: a workspace has one import at a time.
   * Gives the id.
   */
  async keep(files: readonly { name: string; survey: Survey; text: AsyncIterable<string> }[]): Promise<string> {
    this.#scope.require("editor");
    const id = this.#scope.newId();
    const now = this.#scope.now();
    const parts: { import_id: string; file: number; number: number; text: string }[] = [];
    for (const [file, { text }] of files.entries()) {
      let number = 0;
      for await (const part of inParts(text)) parts.push({ import_id: id, file, number: number++, text: part });
    }
    const said = files.map(({ name, survey }) => ({ name, survey }));
    const oldest = subHours(now, KEPT_HOURS).toISOString();
    await this.#scope.batch([
      {
        sql: "DELETE FROM imports WHERE workspace_id = :workspace AND (report IS NULL OR created_at < ?)",
        params: [oldest],
      },
      {
        sql: `INSERT INTO imports (workspace_id, id, files, answers, report, created_at, created_by)
          VALUES (:workspace, ?, ?, ?, NULL, ?, ?)`,
        params: [id, JSON.stringify(said), JSON.stringify(files.map(() => ({}))), now, this.#scope.actor],
      },
      ...insertRows("import_parts", parts),
    ]);
    return id;
  }

  /** Throws `Problem` not-found. */
  async get(id: string): Promise<WaitingImport<Survey, Answers, Report>> {
    const [row] = await this.#scope.all<
      Record<"id" | "files" | "answers" | "created_at" | "created_by", string> & { report: string | null }
    >(
      "SELECT id, files, answers, report, created_at, created_by FROM imports WHERE workspace_id = :workspace AND id = ?",
      [id],
    );
    if (row === undefined) throw notFound("file");
    const { files, answers, report, ...rest } = row;
    return {
      ...rest,
      files: JSON.parse(files),
      answers: JSON.parse(answers),
      report: report === null ? null : JSON.parse(report),
    };
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

  async answer(id: string, answers: readonly Answers[]): Promise<void> {
    this.#scope.require("editor");
    await this.#scope.all(
      "UPDATE imports SET answers = ? WHERE workspace_id = :workspace AND id = ? AND report IS NULL RETURNING id",
      [JSON.stringify(answers), id],
    );
  }

  /** Stores the outcome and deletes the text. */
  async finish(id: string, report: Report): Promise<void> {
    this.#scope.require("editor");
    await this.#scope.batch([
      {
        sql: "UPDATE imports SET report = ? WHERE workspace_id = :workspace AND id = ?",
        params: [JSON.stringify(report), id],
      },
      { sql: "DELETE FROM import_parts WHERE workspace_id = :workspace AND import_id = ?", params: [id] },
    ]);
  }

  /** Deletes the import. */
  async remove(id: string): Promise<void> {
    this.#scope.require("editor");
    await this.#scope.all("DELETE FROM imports WHERE workspace_id = :workspace AND id = ? RETURNING id", [id]);
  }
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
