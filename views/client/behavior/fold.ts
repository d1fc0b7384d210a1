/** Unfolds the question on a phone: at its own link, and when something in it is linked to. */
export function unfoldQuestion(): void {
  document.addEventListener("click", (event) => {
    const link = event.target instanceof Element ? event.target.closest<HTMLAnchorElement>('a[href^="#"]') : null;
    const question = document.getElementById("ask");
    if (link === null || question === null) return;
    const to = document.getElementById(link.hash.slice(1));
    if (to === null || !question.contains(to)) return;
    delete question.dataset.folded;
    if (to !== question) return;
    event.preventDefault();
    question.querySelector<HTMLElement>("select, input")?.focus();
  });
}

/** Folds it to its line again, where the answer is below it and not beside it. */
export function foldQuestion(): void {
  const question = document.getElementById("ask");
  if (question !== null) question.dataset.folded = "";
}

/** Opens what is folded where a link of the page leads: the folds around its target, and the one that it names. */
export function openWhatIsLinkedTo(): void {
  document.addEventListener("click", (event) => {
    const link = event.target instanceof Element ? event.target.closest<HTMLAnchorElement>('a[href^="#"]') : null;
    if (link !== null) openAt(link.hash);
  });
  addEventListener("hashchange", () => openAt(location.hash));
  openAt(location.hash);
}

function openAt(hash: string): void {
  const id = hash.slice(1);
  const to = id === "" ? null : document.getElementById(id);
  if (to === null) return;
  for (const fold of to.querySelectorAll<HTMLDetailsElement>("details[data-opened-by]")) fold.open = true;
  for (let around = to.closest("details"); around !== null; around = around.parentElement?.closest("details") ?? null)
    around.open = true;
}
