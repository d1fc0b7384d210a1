/** A button that copies the text of a field; it is there only where copying is. */
export function copyOnPress(): void {
  if (navigator.clipboard === undefined) return;
  for (const button of document.querySelectorAll<HTMLButtonElement>("button[data-copy]")) {
    button.hidden = false;
    button.addEventListener("click", async () => {
      const field = document.getElementById(button.dataset.copy ?? "");
      if (!(field instanceof HTMLTextAreaElement)) return;
      field.select();
      await navigator.clipboard.writeText(field.value);
      button.textContent = "Copied";
    });
  }
}
