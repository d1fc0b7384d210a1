/** One thing to put right and the field where it stands. */
export interface FieldError {
  /** Id of the input. */
  field: string;
  message: string;
}

/** What to put right, on top of the page, with a link to each field. Takes the focus when the page arrives. */
export function ErrorSummary({ errors, title }: { errors: readonly FieldError[]; title?: string | undefined }) {
  const english = errors.length === 1 ? "Fix this to continue" : `Fix these ${errors.length} things to continue`;
  return (
    <div class="error-summary" id="error-summary" role="alert" tabindex={-1} autofocus>
      <h2>{title ?? english}</h2>
      <ErrorLinks errors={errors} />
    </div>
  );
}

/** The list of them. */
export function ErrorLinks({ errors }: { errors: readonly FieldError[] }) {
  return (
    <ul>
      {errors.map(({ field, message }) => (
        <li>
          <a href={`#${field}`}>{message}</a>
        </li>
      ))}
    </ul>
  );
}
