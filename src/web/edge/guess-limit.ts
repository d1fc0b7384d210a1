import { expandIPv6 } from "hono/utils/ipaddr";

/**
 * Limits how fast one address may try unknown keys. A key has 256 bits and is not found by trying; this keeps trying
 * from being free. Only misses count: an address is shared by many, and who has a good key gets in whatever the
 * neighbours try.
 */
export interface GuessLimit {
  /** Records a failed attempt. False once `from` has used up its attempts. */
  wrong(from: string): Promise<boolean>;
}

/** For a runtime that has nothing to count with. */
export const NO_LIMIT: GuessLimit = { wrong: async () => true };

interface BucketOptions {
  now: () => Date;
  /** Wrong keys at once. */
  burst?: number;
  /** How long until one more is allowed. */
  refill_ms?: number;
  /** Origins that are remembered; then the one that was quiet for longest is forgotten. */
  remembered?: number;
}

/** A bucket of tokens for each origin, in the memory of this process. */
export function guessBuckets({ now, burst = 20, refill_ms = 6000, remembered = 10_000 }: BucketOptions): GuessLimit {
  const buckets = new Map<string, { tokens: number; at_ms: number }>();

  return {
    wrong: async (from) => {
      const at_ms = now().getTime();
      const bucket = buckets.get(from);
      const tokens = bucket === undefined ? burst : Math.min(burst, bucket.tokens + (at_ms - bucket.at_ms) / refill_ms);
      buckets.delete(from);
      buckets.set(from, { tokens: Math.max(0, tokens - 1), at_ms });
      if (buckets.size > remembered) buckets.delete(buckets.keys().next().value!);
      return tokens >= 1;
    },
  };
}

/** What the hosted runtime counts with, where it is set up. */
export interface RateLimitBinding {
  limit(options: { key: string }): Promise<{ success: boolean }>;
}

export function boundGuessLimit(binding: RateLimitBinding | undefined): GuessLimit {
  if (binding === undefined) return NO_LIMIT;
  return { wrong: async (from) => (await binding.limit({ key: from })).success };
}

/** Where a request comes from, as far as trying keys goes: the address, of an IPv6 one the network that one customer has. */
export function guesserOf(address: string | null): string {
  if (address === null) return "unknown";
  const mapped = /^::ffff:(\d+\.\d+\.\d+\.\d+)$/i.exec(address)?.[1];
  if (mapped !== undefined || !address.includes(":")) return mapped ?? address;
  // No address has more groups; a proxy may still pass on what a client made up.
  if (address.split(":").length > 8) return address;
  const network = expandIPv6(address.toLowerCase().split("%")[0]!).split(":").slice(0, 4);
  return `${network.map((group) => group.replace(/^0+(?=.)/, "")).join(":")}::/64`;
}
