/**
 * Repeats a changed answer next to the what-ifs, where it was asked for: `With a shop: repair it. Was: top it off.` The
 * answer itself may be far up the page.
 */
export function echoWhatIfs(): void {
  let tried: { words: string; before: string } | null = null;
  const answer = () => document.querySelector<HTMLElement>("[data-short-answer]")?.dataset.shortAnswer ?? "";
  document.addEventListener("htmx:before:request", (event) => {
    const source = event.target as Element;
    const words = wordsOf(source.closest("#what-if [data-echo]"), source);
    tried = words === null ? null : { words, before: answer() };
  });
  document.addEventListener("htmx:after:swap", () => {
    const echo = document.getElementById("what-if-echo");
    if (echo === null || tried === null) return;
    const after = answer();
    echo.textContent =
      after === tried.before
        ? `${tried.words}: still ${lower(after)}.`
        : `${tried.words}: ${lower(after)}. Was: ${lower(tried.before)}.`;
    tried = null;
  });
}

/** What was tried, in words: those of the link, or those of the field that changed. */
function wordsOf(link: Element | null, source: Element): string | null {
  if (link instanceof HTMLElement) return link.dataset.echo ?? null;
  const field = document.activeElement;
  if (!(field instanceof HTMLInputElement || field instanceof HTMLSelectElement)) return null;
  if (field.closest("#what-if") === null || !source.contains(field)) return null;
  const label = field.labels?.[0]?.textContent.trim() ?? "";
  const value = field instanceof HTMLSelectElement ? (field.selectedOptions[0]?.textContent ?? "") : field.value;
  return label === "" ? null : `${label} ${value}`.trim();
}

function lower(words: string): string {
  return words.charAt(0).toLowerCase() + words.slice(1);
}
