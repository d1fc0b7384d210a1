/** Over a form whose record someone else has changed since it was opened. */
export function Overtaken() {
  return (
    <p class="note" role="alert">
      Someone else saved this in the meantime. What you typed is below; save again to put it in place of theirs.
    </p>
  );
}
