/** Our mark: a charge that falls, is topped off and falls again, above the low line; what seeped out hangs below it. */
export function Mark() {
  return (
    <svg class="mark" viewBox="0 0 32 32" aria-hidden="true" focusable="false">
      <path class="mark-charge" d="M3 6 14 17V6l13 13" />
      <path d="M3 23h17" />
      <path class="mark-drop" d="M24 20.5c2.2 3 3.3 4.6 3.3 6a3.3 3.3 0 0 1-6.6 0c0-1.4 1.1-3 3.3-6Z" />
    </svg>
  );
}
