/** A key or a secret, shown only this once: selected as the page opens, ready to be copied. */
export function SecretField({ name, value, hint }: { name: string; value: string; hint?: string }) {
  return (
    <div class="field secret">
      <label for="secret">{name}</label>
      <p class="hint" id="secret-hint">
        Copy it now: it is shown this once.{hint !== undefined && ` ${hint}`}
      </p>
      <input
        type="text"
        id="secret"
        value={value}
        readonly
        autofocus
        aria-describedby="secret-hint"
        spellcheck={false}
      />
    </div>
  );
}
