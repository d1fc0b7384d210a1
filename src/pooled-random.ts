import type { RandomBytes } from "./store/ids.ts";

const POOL_BYTES = 8192;

/**
 * Randomness drawn from the system many keys at a time: asking it takes as long for a few bytes as for some hundred.
 * What was given out is wiped from the pool.
 */
export function pooledRandom(): RandomBytes {
  const pool = new Uint8Array(POOL_BYTES);
  let used = POOL_BYTES;
  return function random(bytes) {
    if (bytes > POOL_BYTES) return crypto.getRandomValues(new Uint8Array(bytes));
    if (used + bytes > POOL_BYTES) {
      crypto.getRandomValues(pool);
      used = 0;
    }
    const given = pool.slice(used, used + bytes);
    pool.fill(0, used, used + bytes);
    used += bytes;
    return given;
  };
}
