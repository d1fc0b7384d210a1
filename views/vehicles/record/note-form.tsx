import { type Messages, TextAreaField } from "../../parts/field.tsx";

/** A note as it was typed. */
export interface NoteFields {
  body: string;
}

/** Words about the vehicle. */
export function NoteForm({ fields, messages }: { fields: NoteFields; messages: Messages }) {
  return <TextAreaField id="body" name="body" label="Note" value={fields.body} error={messages.get("body")} rows={8} />;
}
