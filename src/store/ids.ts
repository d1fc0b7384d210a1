/** That many bytes of cryptographic randomness. */
export type RandomBytes = (bytes: number) => Uint8Array<ArrayBuffer>;

/** 32 characters without `i`, `l`, `o` and `u`, so that an id can be read aloud and spells no words. */
const SIGNS = "0123456789abcdefghjkmnpqrstvwxyz";
const KEY_BYTES = 32;

/** A new id: 20 characters, 100 random bits. */
export function newId(random: RandomBytes): string {
  let id = "";
  for (const byte of random(20)) id += SIGNS[byte % SIGNS.length];
  return id;
}

/** A key to records: their place, then 256 random bits as 43 characters that need no escaping in a URL. */
export function newKey({ place }: { place: string }, random: RandomBytes): string {
  return place + base64Url(random(KEY_BYTES));
}

/** Bytes as text that needs no escaping in an address, without padding: RFC 4648, section 5. */
export function base64Url(bytes: Uint8Array): string {
  return btoa(String.fromCharCode(...bytes))
    .replaceAll("+", "-")
    .replaceAll("/", "_")
    .replaceAll("=", "");
}
