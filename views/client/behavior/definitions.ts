const OPENS_AFTER_MS = 350;

/**
 * Opens the meaning of a word while a mouse rests on it. Clicking, tapping and the keyboard need no script: the word is
 * a button with a popover.
 */
export function openDefinitionsOnHover(): void {
  let timer = 0;
  let opened: HTMLElement | null = null;
  document.addEventListener("pointerover", ({ target, pointerType }) => {
    if (pointerType !== "mouse" || !(target instanceof Element)) return;
    const term = target.closest<HTMLButtonElement>("button.term");
    if (opened?.contains(target)) return;
    clearTimeout(timer);
    if (term === null) {
      close();
      return;
    }
    timer = setTimeout(() => {
      const definition = term.popoverTargetElement;
      if (!(definition instanceof HTMLElement) || definition.matches(":popover-open")) return;
      definition.showPopover({ source: term });
      opened = definition;
    }, OPENS_AFTER_MS);
  });

  function close(): void {
    if (opened?.matches(":popover-open")) opened.hidePopover();
    opened = null;
  }
}
