/** Closes an open menu at a press elsewhere and at Escape; opening it needs no script. */
export function closeMenus(): void {
  const open = () => document.querySelectorAll<HTMLDetailsElement>("details.more-places[open]");
  document.addEventListener("click", ({ target }) => {
    for (const menu of open()) if (target instanceof Node && !menu.contains(target)) menu.open = false;
  });
  document.addEventListener("keydown", ({ key }) => {
    if (key !== "Escape") return;
    for (const menu of open()) {
      menu.open = false;
      menu.querySelector("summary")?.focus();
    }
  });
}
