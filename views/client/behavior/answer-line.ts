/**
 * Marks on the root element where the answer is relative to the window (`data-answer`: above, in-sight, below), so that
 * a line can stand in for it while it is out of sight.
 */
export function followAnswer(): void {
  let followed: Element | null = null;
  const observer = new IntersectionObserver((entries) => {
    const seen = entries.at(-1);
    if (seen === undefined) return;
    const { isIntersecting, boundingClientRect } = seen;
    document.documentElement.dataset.answer = isIntersecting
      ? "in-sight"
      : boundingClientRect.top < 0
        ? "above"
        : "below";
  });
  const follow = () => {
    const answer = document.querySelector(".verdict-reached");
    if (answer === followed) return;
    observer.disconnect();
    delete document.documentElement.dataset.answer;
    followed = answer;
    if (answer !== null) observer.observe(answer);
  };
  follow();
  document.addEventListener("htmx:after:swap", follow);
}
