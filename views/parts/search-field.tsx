/** The field of a search, and what it looks through; the page puts its button behind it. */
export function SearchField({ label, value }: { label: string; value: string }) {
  return (
    <div class="field">
      <label class="label-text" for="q">
        {label}
      </label>
      <input type="search" id="q" name="q" value={value} dir="auto" autocomplete="off" />
    </div>
  );
}
