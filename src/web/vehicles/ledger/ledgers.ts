import type { Child } from "hono/jsx";
import type { Messages } from "../../../../views/parts/field.tsx";
import { EntryForm } from "../../../../views/vehicles/record/entry-form.tsx";
import { FindingForm } from "../../../../views/vehicles/record/finding-form.tsx";
import type { LinePageProps } from "../../../../views/vehicles/record/line-page.tsx";
import { NoteForm } from "../../../../views/vehicles/record/note-form.tsx";
import { type LedgerName, vehiclePath } from "../../../../views/vehicles/record/record.ts";
import { SaidEntry, SaidFindingLine, SaidNote } from "../../../../views/vehicles/record/said-line.tsx";
import type {
  ChargeEntry,
  ChargeEntryInput,
  FindingInput,
  FoundLeak,
  Line,
  Note,
} from "../../../core/question/record.ts";
import type { Ledger } from "../../../store/ledger.ts";
import type { Role } from "../../../store/roles.ts";
import type { WorkspaceStore } from "../../../store/workspace-store.ts";
import type { Read } from "../../forms/form-reading.ts";
import type { About } from "../about.ts";
import { blankEntry, entryFieldsOf, readBackOfEntry, readEntry, typedEntry } from "../entry-form.ts";
import { blankFinding, findingFieldsOf, readFindingForm, typedFinding } from "../finding-form.ts";
import { noteFieldsOf, readNoteForm } from "../note-form.ts";

/** How a ledger is read, filled in and shown: all that its addresses need to know. */
export interface LedgerPages<Fields, Content extends object, Input extends object> {
  name: LedgerName;
  of(store: WorkspaceStore): Ledger<Content, Input>;
  /** A new line, with what the address brings along. */
  blank(query: URLSearchParams, about: About): Fields;
  /** A form as it came in. */
  fields(form: URLSearchParams): Fields;
  /** A stored line as its form shows it. */
  typed(content: Content, about: About): Fields;
  read(fields: Fields, about: About): Read<Input>;
  form(fields: Fields, messages: Messages, about: About): Child;
  said(line: Line<Content>, about: About): Child;
  /** Who may look at a line by itself; an editor, whose form it is, unless given. */
  looks?: Role;
  /** What the page of a line, or of a new one, has around its form. */
  around?(line: Line<Content> | null, about: About): Pick<LinePageProps, "heading" | "lead" | "above">;
  /** Where to go after a change; the vehicle's page, unless given. */
  stored?(line: Line<Content>): string;
}

export const chargeLogPages: LedgerPages<ReturnType<typeof entryFieldsOf>, ChargeEntry, ChargeEntryInput> = {
  name: "log",
  of: ({ chargeLog }) => chargeLog,
  blank: blankEntry,
  fields: entryFieldsOf,
  typed: typedEntry,
  read: readEntry,
  form: (fields, messages, about) =>
    EntryForm({
      fields,
      messages,
      read_back: readBackOfEntry(fields, about),
      read_back_path: vehiclePath(about.vehicle.id, "log", "read-back"),
    }),
  said: (line, { units }) => SaidEntry({ line, units }),
};

export const findingsPages: LedgerPages<ReturnType<typeof findingFieldsOf>, FoundLeak, FindingInput> = {
  name: "findings",
  of: ({ findings }) => findings,
  blank: blankFinding,
  fields: findingFieldsOf,
  typed: typedFinding,
  read: readFindingForm,
  form: (fields, messages) => FindingForm({ fields, messages }),
  said: (line) => SaidFindingLine({ line }),
};

export const notesPages: LedgerPages<ReturnType<typeof noteFieldsOf>, Note, Note> = {
  name: "notes",
  of: ({ notes }) => notes,
  blank: noteFieldsOf,
  fields: noteFieldsOf,
  typed: ({ body }) => ({ body }),
  read: readNoteForm,
  form: (fields, messages) => NoteForm({ fields, messages }),
  said: (line) => SaidNote({ line }),
};
