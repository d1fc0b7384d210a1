/**
 * A select, radio or checkbox that someone has touched no longer follows its attributes, which is all that a change in
 * place can set. So after each change they are put to what the server says: it has been told what stood in them.
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
