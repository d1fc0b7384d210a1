import type { Sql } from "../../store/sql.ts";
import { type DueMessage, settleMessage, takeDueMessages } from "../../store/webhook-outbox.ts";
import { type Deps, Unreachable } from "../edge/deps.ts";
import { addressFault } from "./address.ts";
import { signatureOf } from "./signature.ts";

/** Messages sent at a time: a slow receiver holds up these, and nobody else. */
const AT_ONCE = 5;

/** Sends what is due, of any workspace. True when more may be due at once. */
export async function sendDueMessages({ now, post }: Pick<Deps, "now" | "post">, sql: Sql): Promise<boolean> {
  const due = await takeDueMessages(sql, now(), AT_ONCE);
  await Promise.all(
    due.map(async (message) => settleMessage(sql, message, await attempt(message, { now, post }), now())),
  );
  return due.length === AT_ONCE;
}

/** Sends what a change may have left to send, where work goes on between requests. */
export function sendSoon({ keepWorking, now, post }: Pick<Deps, "keepWorking" | "now" | "post">, sql: Sql): void {
  keepWorking?.("webhooks", () => sendDueMessages({ now, post }, sql));
}

async function attempt({ url, secret, id, body }: DueMessage, { now, post }: Pick<Deps, "now" | "post">) {
  if (addressFault(url) !== null) return { delivered: false, outcome: "The address is not on the public internet" };
  const timestamp = String(Math.floor(now().getTime() / 1000));
  const headers = {
    "Content-Type": "application/json",
    "User-Agent": "Seepwise",
    "Seepwise-Message": id,
    "Seepwise-Timestamp": timestamp,
    "Seepwise-Signature": await signatureOf(secret, timestamp, body),
  };
  try {
    const status = await post(url, headers, body);
    return { delivered: status >= 200 && status < 300, outcome: String(status) };
  } catch (error) {
    if (!(error instanceof Unreachable)) throw error;
    return { delivered: false, outcome: error.message };
  }
}
