/**
 * A button with an address of its own sends its form there as the browser does it, and not as a change of the page that
 * is there already.
 */
export function leaveOwnSubmits(): void {
  document.addEventListener(
    "submit",
    (event) => {
      if (event.submitter?.hasAttribute("formaction")) event.stopImmediatePropagation();
    },
    { capture: true },
  );
}
