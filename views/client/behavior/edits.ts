interface Ctx {
  sourceElement: Element;
  request: { headers: Record<string, string> };
}

/**
 * Makes the edits of one sitting one step of the browser's history: from the second change of a form in a row on, the
 * server is asked to put the new address in place of the last. A link pressed in between begins anew.
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
