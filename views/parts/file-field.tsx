import { ErrorText } from "./field.tsx";

interface FileFieldProps {
  /** Of the input, and its name. */
  id: string;
  label: string;
  hint?: string;
  /** What the browser offers to choose: endings and media types. */
  accept: string;
  error: string | undefined;
}

/** A file to send in. */
export function FileField({ id, label, hint, accept, error }: FileFieldProps) {
  const described = [...(hint === undefined ? [] : [`${id}-hint`]), ...(error === undefined ? [] : [`${id}-error`])];
  return (
    <div class="field">
      <label class="label-text" for={id}>
        {label}
      </label>
      {hint !== undefined && (
        <span class="hint" id={`${id}-hint`}>
          {hint}
        </span>
      )}
      {error !== undefined && <ErrorText id={id} message={error} />}
      <input
        type="file"
        id={id}
        name={id}
        accept={accept}
        aria-describedby={described.length === 0 ? undefined : described.join(" ")}
        aria-invalid={error === undefined ? undefined : "true"}
      />
    </div>
  );
}
