/** That many bytes of cryptographic randomness. */
export type RandomBytes = (bytes: number) => Uint8Array<ArrayBuffer>;

/** 32 signs without `i`, `l`, `o` and `u`, so that an id can be read out and spells no words. */
const SIGNS = "0123456789abcdefghjkmnpqrstvwxyz";

/** A new id: 20 signs, 100 random bits. */
export function newId(random: RandomBytes): string {
  return Array.from(random(20), (byte) => SIGNS[byte % SIGNS.length]).join("");
}
