/**
 * A shop at work on the store's own code, to be killed: `node shop-process.ts DATABASE`. It quotes, takes the yes,
 * invoices, is paid and imports, over and over, several jobs at once; each thing is said in a line of JSON once the
 * store has it.
 */
import { openDatabase } from "../../src/store/migrations.ts";
import { workspaceStore } from "../../src/store/workspace-store.ts";
import { ensureLocalWorkspace, LOCAL_WORKSPACE } from "../../src/store/workspaces.ts";
import { acceptedQuote, INVOICE } from "./invoice-samples.ts";

const JOBS_AT_ONCE = 4;

const [, , file] = process.argv;
const now = () => new Date();
const random = (bytes: number) => crypto.getRandomValues(new Uint8Array(bytes));
const sql = await openDatabase(file as string);
await ensureLocalWorkspace({ sql, now });
const store = workspaceStore({ sql, workspaceId: LOCAL_WORKSPACE, role: "owner", actor: "local", now, random });

const say = (kept: Record<string, string>) => console.log(JSON.stringify(kept));

async function job(): Promise<never> {
  for (;;) {
    const about = await acceptedQuote(store);
    say({ quote: about.quote_id });
    const invoice = await store.invoices.issue(about, INVOICE, 1);
    say({ invoice: invoice.id });
    const payment = { amount_minor: 400_00, paid_on: "2026-05-02", method: "cash", note: "" } as const;
    say({ payment: (await store.invoices.pay(invoice.id, payment)).id });
  }
}

await Promise.all(Array.from({ length: JOBS_AT_ONCE }, job));
