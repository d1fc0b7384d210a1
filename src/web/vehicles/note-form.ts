import type { NoteFields } from "../../../views/vehicles/record/note-form.tsx";
import { MAX_NOTE_CHARS, type Note } from "../../core/question/record.ts";
import { type Read, readWords } from "../forms/form-reading.ts";

/** The field of a form as it was typed. */
export function noteFieldsOf(form: URLSearchParams): NoteFields {
  return { body: form.get("body") ?? "" };
}

/** Reads a note. */
export function readNoteForm({ body }: NoteFields): Read<Note> {
  const note = readWords(body, MAX_NOTE_CHARS);
  if ("message" in note) return { ok: false, errors: [{ field: "body", message: note.message }] };
  if (note.words === null) return { ok: false, errors: [{ field: "body", message: "Write something, or leave it" }] };
  return { ok: true, input: { body: note.words } };
}
