/**
 * Once touched, a select, radio or checkbox ignores changes of its attributes, which is all that a swap can set. After
 * each swap, these controls are reset to what the server sent.
 */
export function controlsFollowServer(): void {
  document.addEventListener("htmx:after:swap", (event) => {
    const { target } = (event as CustomEvent<{ ctx: { target?: Element } }>).detail.ctx;
    for (const option of target?.querySelectorAll("option") ?? []) {
      if (option.selected !== option.defaultSelected) option.selected = option.defaultSelected;
    }
    const boxes = target?.querySelectorAll<HTMLInputElement>("input[type=radio], input[type=checkbox]") ?? [];
    for (const box of boxes) {
      if (box.checked !== box.defaultChecked) box.checked = box.defaultChecked;
    }
  });
}
