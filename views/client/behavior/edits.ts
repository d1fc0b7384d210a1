interface Ctx {
  sourceElement: Element;
  request: { headers: Record<string, string> };
}

/**
 * Makes the edits of one sitting a single history entry: from the second change of a form in a row, the server is asked
 * to replace the address. A pressed link starts anew.
 */
export function editsAreOneStep(): void {
  let editing: Element | null = null;
  document.addEventListener("htmx:config:request", (event) => {
    const { sourceElement, request } = (event as CustomEvent<{ ctx: Ctx }>).detail.ctx;
    if (editing === sourceElement) request.headers["Seepwise-Edit"] = "again";
    editing = sourceElement instanceof HTMLFormElement ? sourceElement : null;
  });
  addEventListener("popstate", () => {
    editing = null;
  });
}
