import { expandIPv6 } from "hono/utils/ipaddr";

/** Limits how often one address may do what costs everyone something. */
export interface RateLimit {
  /** Takes one from what `from` has left. False once there is nothing left. */
  take(from: string): Promise<boolean>;
}

/** What is limited, each by itself. */
export interface RateLimits {
  /**
   * Unknown keys. A key has 256 bits and is not found by trying; this keeps trying from being free. Only misses count:
   * an address is shared by many, and who has a good key gets in whatever the neighbours try.
   */
  guesses: RateLimit;
  /** New workspaces, which anybody may begin. */
  begins: RateLimit;
  /** Questions to the model that are not in memory, from people without access. */
  questions: RateLimit;
}

/** For a runtime that has nothing to count with, and for a server that serves its own machine alone. */
const NO_LIMIT: RateLimit = { take: async () => true };
export const NO_LIMITS: RateLimits = { guesses: NO_LIMIT, begins: NO_LIMIT, questions: NO_LIMIT };

interface BucketOptions {
  now: () => Date;
  /** How many at once. */
  burst: number;
  /** How long until one more is allowed. */
  refill_ms: number;
  /** Origins that are remembered; then the one that was quiet for longest is forgotten. */
  remembered?: number;
}

/**
 * A bucket of tokens for each origin, in the memory of this process.
 *
 * @internal Called from outside by tests alone.
 */
export function tokenBuckets({ now, burst, refill_ms, remembered = 10_000 }: BucketOptions): RateLimit {
  const buckets = new Map<string, { tokens: number; at_ms: number }>();

  return {
    take: async (from) => {
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

/**
 * The limits of a server that others reach. Someone who edits a question asks a few times a second for a while; a shop
 * behind one address begins a workspace now and then.
 */
export function bucketLimits(now: () => Date): RateLimits {
  return {
    guesses: tokenBuckets({ now, burst: 20, refill_ms: 6000 }),
    begins: tokenBuckets({ now, burst: 10, refill_ms: 360_000 }),
    questions: tokenBuckets({ now, burst: 120, refill_ms: 500 }),
  };
}

/** What the hosted runtime counts with, where it is set up. */
export interface RateLimitBinding {
  limit(options: { key: string }): Promise<{ success: boolean }>;
}

/** A limit by the hosted runtime's own counter; none where it is not set up. */
export function boundLimit(binding: RateLimitBinding | undefined): RateLimit {
  if (binding === undefined) return NO_LIMIT;
  return { take: async (from) => (await binding.limit({ key: from })).success };
}

/** Where a request comes from, as far as limits go: the address, of an IPv6 one the network that one customer has. */
export function limitedAs(address: string | null): string {
  if (address === null) return "unknown";
  const mapped = /^::ffff:(\d+\.\d+\.\d+\.\d+)$/i.exec(address)?.[1];
  if (mapped !== undefined || !address.includes(":")) return mapped ?? address;
  // No address has more groups; a proxy may still pass on what a client made up.
  if (address.split(":").length > 8) return address;
  const network = expandIPv6(address.toLowerCase().split("%")[0]!).split(":").slice(0, 4);
  return `${network.map((group) => group.replace(/^0+(?=.)/, "")).join(":")}::/64`;
}
