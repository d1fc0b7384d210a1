import { expandIPv6 } from "hono/utils/ipaddr";

/** Limits how often one address may do something costly. */
export interface RateLimit {
  /**
   * Uses up one of the attempts of `from`, or as many as `count` says: what is dear is allowed when one is left, and
   * the rest is owed. False when none is left.
   */
  take(from: string, count?: number): Promise<boolean>;
}

/** The limits, each counted separately. */
export interface RateLimits {
  /**
   * Unknown keys. A 256-bit key cannot be found by trying; this keeps trying from being free. Only misses count, since
   * an address may be shared: a good key works whatever the neighbors try.
   */
  guesses: RateLimit;
  /** New workspaces. */
  begins: RateLimit;
  /** Uncached questions to the model, by visitors without access. */
  questions: RateLimit;
  /** The same by those with access, counted by their key. */
  asked_with_key: RateLimit;
  /** Requests that would change something, counted by address and by key. */
  changes: RateLimit;
}

/** No limits: for a runtime without a counter, and for a server that serves its own machine alone. */
const NO_LIMIT: RateLimit = { take: async () => true };
export const NO_LIMITS: RateLimits = {
  guesses: NO_LIMIT,
  begins: NO_LIMIT,
  questions: NO_LIMIT,
  asked_with_key: NO_LIMIT,
  changes: NO_LIMIT,
};

interface BucketOptions {
  now: () => Date;
  /** Burst size. */
  burst: number;
  /** Time until one more attempt is allowed. */
  refill_ms: number;
  /** Origins that are remembered; beyond this the least recently seen is forgotten. */
  remembered?: number;
}

/**
 * A token bucket for each origin, in the memory of this process.
 *
 * @internal Called from outside by tests alone.
 */
export function tokenBuckets({ now, burst, refill_ms, remembered = 10_000 }: BucketOptions): RateLimit {
  const buckets = new Map<string, { tokens: number; at_ms: number }>();

  return {
    take: async (from, count = 1) => {
      const at_ms = now().getTime();
      const bucket = buckets.get(from);
      // Set back, the clock takes nothing from anyone and gives nothing.
      const waited_ms = bucket === undefined ? 0 : Math.max(0, at_ms - bucket.at_ms);
      const tokens = bucket === undefined ? burst : Math.min(burst, bucket.tokens + waited_ms / refill_ms);
      buckets.delete(from);
      buckets.set(from, { tokens: tokens >= 1 ? tokens - count : Math.min(0, tokens), at_ms });
      if (buckets.size > remembered) buckets.delete(buckets.keys().next().value!);
      return tokens >= 1;
    },
  };
}

/**
 * The limits of a public server. Editing a question asks a few times a second for a while; a shop behind one address
 * creates a workspace now and then.
 */
export function bucketLimits(now: () => Date): RateLimits {
  return {
    guesses: tokenBuckets({ now, burst: 20, refill_ms: 6000 }),
    begins: tokenBuckets({ now, burst: 10, refill_ms: 360_000 }),
    questions: tokenBuckets({ now, burst: 120, refill_ms: 500 }),
    // A program works through a list; five a second for as long as it likes are a tenth of one core.
    asked_with_key: tokenBuckets({ now, burst: 300, refill_ms: 200 }),
    changes: tokenBuckets({ now, burst: 300, refill_ms: 100 }),
  };
}

/** The hosted runtime's own counters, where they are set up. */
export interface RateLimitBinding {
  limit(options: { key: string }): Promise<{ success: boolean }>;
}

/** A limit by the hosted runtime's own counter; none where it is not set up. */
export function boundLimit(binding: RateLimitBinding | undefined): RateLimit {
  if (binding === undefined) return NO_LIMIT;
  return {
    take: async (from, count = 1) => {
      const { success } = await binding.limit({ key: from });
      // The counter knows no amounts; what it says of the rest is for the next time.
      for (let i = 1; success && i < count; i += 1) await binding.limit({ key: from });
      return success;
    },
  };
}

/** The origin that limits count by: the address; for IPv6, the network of one customer. */
export function limitedAs(address: string | null): string {
  if (address === null) return "unknown";
  const mapped = /^::ffff:(\d+\.\d+\.\d+\.\d+)$/i.exec(address)?.[1];
  if (mapped !== undefined || !address.includes(":")) return mapped ?? address;
  // No address has more groups, but a proxy may pass on whatever the client made up.
  if (address.split(":").length > 8) return address;
  const network = expandIPv6(address.toLowerCase().split("%")[0]!).split(":").slice(0, 4);
  return `${network.map((group) => group.replace(/^0+(?=.)/, "")).join(":")}::/64`;
}
