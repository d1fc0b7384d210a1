/** Puts a line on top of the page that is read out, in place of the one with the same id. */
export function showStatusLine(id: string, ...parts: (string | Node)[]): void {
  document.getElementById(id)?.remove();
  const line = document.createElement("p");
  line.className = "on-device";
  line.id = id;
  line.role = "status";
  line.append(...parts);
  document.getElementById("main")?.prepend(line);
}

/** A link for such a line. */
export function linkTo(href: string, words: string): HTMLAnchorElement {
  const link = document.createElement("a");
  link.href = href;
  link.textContent = words;
  return link;
}
