import type { Child } from "hono/jsx";

interface ConfirmProps {
  /** What is about to be done, as its button says: `Delete draft`. */
  name: Child;
  /** What it means, and that it cannot be undone. */
  question: Child;
  action: string;
  /** Hidden fields of the form. */
  fields: Readonly<Record<string, string | number>>;
  /** A box that may be ticked along with it. */
  choice?: { name: string; label: string };
  /** Distinguishes several on one page. */
  about?: string;
}

/**
 * Asks before an action that cannot be undone, without a script: the button opens the question, and a second one does
 * it.
 */
export function Confirm({ name, question, action, fields, choice, about }: ConfirmProps) {
  return (
    <details class="confirm">
      <summary class="button-quiet" aria-label={about === undefined ? undefined : `${name} ${about}`}>
        {name}…
      </summary>
      <form method="post" action={action}>
        {Object.entries(fields).map(([field, value]) => (
          <input type="hidden" name={field} value={value} />
        ))}
        <p>{question}</p>
        {choice !== undefined && (
          <label class="choice">
            <input type="checkbox" name={choice.name} value="yes" />
            {choice.label}
          </label>
        )}
        <button type="submit" class="button" aria-label={about === undefined ? undefined : `Yes: ${name} ${about}`}>
          Yes: {name}
        </button>
      </form>
    </details>
  );
}
