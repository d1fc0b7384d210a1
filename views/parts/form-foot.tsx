import type { Child } from "hono/jsx";

interface FormFootProps {
  /** What the button says: `Save`. */
  submit: Child;
  /** Whether it is not what the page is for. */
  quiet?: boolean;
  /** Links beside the button, as the way out. */
  children?: Child;
}

/** The end of a form: its button, and the way out. */
export function FormFoot({ submit, quiet = false, children }: FormFootProps) {
  return (
    <p class="actions">
      <button type="submit" class={quiet ? "button-quiet" : "button"}>
        {submit}
      </button>
      {children}
    </p>
  );
}
