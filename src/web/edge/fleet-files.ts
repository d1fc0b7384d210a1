import type { ImportReport } from "../../../views/fleet/import-shown.ts";
import type { FieldError } from "../../../views/parts/error-summary.tsx";
import type { Access } from "../../store/access.ts";
import type { FormFile } from "../forms/upload.ts";

/** A file of a fleet with the form's field that it came in. Its pieces are used up. */
export type SentFleetFile = FormFile & { field: string };

/** What a person agreed to on the report of an import, and what they said of the file as a whole. */
export interface Agreed {
  /** Kinds of rows that are taken only when somebody agrees. */
  agreements: readonly string[];
  corrections: boolean;
  changes: boolean;
  /** Every charge of these vehicles is in the file. */
  logged: boolean;
}

/** What takes seconds with a fleet's files. The ids are those of imports that wait. */
export interface FleetFiles {
  /** Looks through the files and stores them to wait; or says what is wrong with them. */
  keep(sent: readonly SentFleetFile[]): Promise<{ ok: true; id: string } | { ok: false; errors: FieldError[] }>;
  /** What the import would do. */
  look(id: string): Promise<ImportReport>;
  /** The rows of a file that would be rejected, as CSV. */
  rejected(id: string, file: number): Promise<string>;
  /** Takes it in. Throws what `FleetImport.add` throws. */
  take(id: string, agreed: Agreed): Promise<void>;
}

/** The same for the records that `access` is to. */
export type FleetFilesOf = (access: Access) => FleetFiles;
