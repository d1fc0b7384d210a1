import type { ImportReport } from "../../../../views/fleet/import-shown.ts";
import type { Imports, StoredImport } from "../../../store/imports.ts";
import type { WorkspaceStore } from "../../../store/workspace-store.ts";
import { type MappingAnswers, mappingOf, type OpenPoint } from "./mapping.ts";
import type { Survey } from "./survey.ts";

/** What is kept of a file beside its name and text. */
export interface FileSurvey {
  survey: Survey;
  /** Its headers when it came, under which its mapping is kept. */
  key: string;
  /** Whether it is read as one with the same headers was before. */
  kept: boolean;
}

/** An import of a fleet's files, that waits or is done. */
export type Waiting = StoredImport<FileSurvey, MappingAnswers, ImportReport>;

/** The store's imports are of this kind: nothing else puts any there. */
export function importsOf(store: WorkspaceStore): Imports<FileSurvey, MappingAnswers, ImportReport> {
  return store.imports as Imports<FileSurvey, MappingAnswers, ImportReport>;
}

/** What is still to be answered about one of its files. */
export function questionsAbout({ files, answers }: Waiting, number: number): OpenPoint[] {
  const said = answers[number] ?? {};
  return said.skip ? [] : mappingOf(files[number]!.survey, said).questions;
}

/** Whether it waits for answers. */
export function isAsking(waiting: Waiting): boolean {
  return (
    waiting.answers.every(({ skip }) => skip) ||
    waiting.files.some((_, number) => questionsAbout(waiting, number).length > 0)
  );
}
