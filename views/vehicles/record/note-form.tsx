import { TextAreaField } from "../../parts/field.tsx";
import type { Messages } from "../../start/question.tsx";

/** A note as it was typed. */
export interface NoteFields {
  body: string;
}

/** Words about the vehicle. */
export function NoteForm({ fields, messages }: { fields: NoteFields; messages: Messages }) {
  return <TextAreaField id="body" name="body" label="Note" value={fields.body} error={messages.get("body")} rows={8} />;
}
