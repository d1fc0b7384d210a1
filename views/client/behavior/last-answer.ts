/**
 * Keeps the last answer on the page while the question has errors (status 422): the response brings only the errors,
 * and the style sheet dims the answer.
 */
export function keepLastAnswer(): void {
  document.addEventListener("htmx:before:swap", (event) => {
    const { ctx } = (event as CustomEvent<{ ctx: { response?: { status: number } } }>).detail;
    for (const part of document.querySelectorAll(".answer-part"))
      part.toggleAttribute("hx-morph-skip", ctx.response?.status === 422);
  });
}
