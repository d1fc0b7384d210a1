import { type LookupAddress, lookup as lookUp } from "node:dns";
import { request as httpsRequest } from "node:https";
import type { LookupFunction } from "node:net";
import { Unreachable, type WebhookPost } from "./web/edge/deps.ts";
import { isPublicAddress } from "./web/webhook/address.ts";

/** How long an answer may take, in all. */
const TIME_OUT_MS = 10_000;

interface Ways {
  request: typeof httpsRequest;
  lookup: typeof lookUp;
  isPublic(address: string): boolean;
  time_out_ms: number;
}

/**
 * Sends messages from this machine. What a name resolves to is looked at before anything is connected, and that very
 * address is connected to: a name cannot lead outside when it is looked at and inside when it is used. Nothing of the
 * answer is read but its status; a redirect is an answer like any other.
 */
export function webhookPost(ways: Partial<Ways> = {}): WebhookPost {
  const { request = httpsRequest, lookup = lookUp, isPublic = isPublicAddress, time_out_ms = TIME_OUT_MS } = ways;

  const publicLookup: LookupFunction = (host, options, done) => {
    lookup(host, { ...options, all: true }, (error, found) => {
      const addresses: LookupAddress[] = error === null ? found : [];
      if (error !== null) return done(error, "");
      if (addresses.length === 0 || !addresses.every(({ address }) => isPublic(address)))
        return done(new Unreachable(INSIDE), "");
      if (options.all) return done(null, addresses);
      const [first] = addresses;
      return done(null, first!.address, first!.family);
    });
  };

  return function post(url, headers, body) {
    return new Promise((resolve, reject) => {
      const signal = AbortSignal.timeout(time_out_ms);
      // An address that is a number is not looked up.
      const host = new URL(url).hostname.replace(/^\[|\]$/g, "");
      if (/^[\d.]+$|:/.test(host) && !isPublic(host)) return reject(new Unreachable(INSIDE));
      const length = { "Content-Length": String(Buffer.byteLength(body)) };
      const sent = request(
        url,
        { method: "POST", headers: { ...headers, ...length }, lookup: publicLookup, signal, agent: false },
        (answer) => {
          resolve(answer.statusCode ?? 0);
          answer.destroy();
        },
      );
      sent.on("error", (error: NodeJS.ErrnoException) => {
        reject(error instanceof Unreachable ? error : new Unreachable(signal.aborted ? SLOW : said(error)));
      });
      sent.end(body);
    });
  };
}

const INSIDE = "The address leads into a private network";
const SLOW = "No answer in time";

function said({ code = "" }: NodeJS.ErrnoException): string {
  if (code === "ENOTFOUND" || code === "EAI_AGAIN") return "There is no server of that name";
  if (code === "ECONNREFUSED") return "The server takes no connections";
  return code.includes("CERT") || code.includes("SELF_SIGNED") ? "Its certificate is not valid" : "No connection";
}
