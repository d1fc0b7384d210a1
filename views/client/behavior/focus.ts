/**
 * Keeps the focus where the work is after a part of the page has been changed: on the errors when an answer was asked for,
 * in a new line's first field, and on the button that adds lines when the line under the focus has gone.
 */
export function focusAfterChange(): void {
  document.addEventListener("htmx:after:swap", (event) => {
    const summary = document.getElementById("error-summary");
    const submitter = submitterOf(event);
    if (summary !== null && submitter?.name === "go") summary.focus();
    else if (submitter?.name === "add") document.querySelector<HTMLElement>(".log-line:last-child input")?.focus();
    else if (submitter?.name === "remove") document.getElementById("add-line")?.focus();
  });
}

/** The button that the change was asked for with. */
function submitterOf(event: Event): HTMLButtonElement | null {
  const { ctx } = (event as CustomEvent<{ ctx: { sourceEvent?: Event } }>).detail;
  const asked = ctx.sourceEvent;
  return asked instanceof SubmitEvent && asked.submitter instanceof HTMLButtonElement ? asked.submitter : null;
}
