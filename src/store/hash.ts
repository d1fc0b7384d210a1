/**
 * JSON with the fields of every object in alphabetical order and absent ones left out, so that equal values have equal
 * text.
 */
export function canonicalJson(value: unknown): string {
  return JSON.stringify(value, (_key, part: unknown) =>
    typeof part === "object" && part !== null && !Array.isArray(part)
      ? Object.fromEntries(Object.entries(part).toSorted(([a], [b]) => (a < b ? -1 : 1)))
      : part,
  );
}

/** SHA-256 of a text's UTF-8 bytes, 64 hexadecimal digits. */
export async function sha256Hex(text: string): Promise<string> {
  const digest = await crypto.subtle.digest("SHA-256", new TextEncoder().encode(text));
  return Array.from(new Uint8Array(digest), (byte) => byte.toString(16).padStart(2, "0")).join("");
}

/** The same 64 digits for the same content, whatever the order of its fields. */
export function contentHash(value: unknown): Promise<string> {
  return sha256Hex(canonicalJson(value));
}
