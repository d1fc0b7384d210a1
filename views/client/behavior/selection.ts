/** Counts what is ticked in the fleet's table while it is ticked; the server counts it again with each page. */
export function countSelected(): void {
  document.addEventListener("change", ({ target }) => {
    if (!(target instanceof HTMLInputElement) || target.name !== "v" || target.type !== "checkbox") return;
    const form = target.form;
    const said = form?.querySelector("output");
    if (form == null || said == null) return;
    said.textContent = `${new FormData(form).getAll("v").length} selected`;
  });
}
