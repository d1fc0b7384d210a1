import { foldQuestion } from "./fold.ts";

/**
 * Moves the focus after a swap: to the answer when it was asked for, or to the first error; into the first field of a
 * new line; to the button that adds lines when the focused line is gone.
 */
export function focusAfterChange(): void {
  document.addEventListener("htmx:after:swap", (event) => {
    const summary = document.getElementById("error-summary");
    const submitter = submitterOf(event);
    if (submitter?.name === "go") {
      if (summary !== null) summary.focus();
      else showAnswer();
    }
    if (submitter?.name === "add") document.querySelector<HTMLElement>(".log-line:last-child input")?.focus();
    else if (submitter?.name === "remove") document.getElementById("add-line")?.focus();
  });
}

function showAnswer(): void {
  foldQuestion();
  const answer = document.getElementById("answer");
  if (answer === null) return;
  answer.tabIndex = -1;
  answer.focus({ preventScroll: true });
  answer.scrollIntoView({ block: "start" });
}

/** The button that the change was asked for with. */
function submitterOf(event: Event): HTMLButtonElement | null {
  const { ctx } = (event as CustomEvent<{ ctx: { sourceEvent?: Event } }>).detail;
  const asked = ctx.sourceEvent;
  return asked instanceof SubmitEvent && asked.submitter instanceof HTMLButtonElement ? asked.submitter : null;
}
