import { describe, expect, test } from "vitest";
import type { Role } from "../../../src/store/roles.ts";
import { type WorkspaceStore, workspaceStore } from "../../../src/store/workspace-store.ts";
import { ON_PAPER, ROBIN } from "../customers/customers-database.ts";
import { Database } from "../database.ts";
import { engines, random, testClock } from "../engines.ts";
import { acceptedQuote, INVOICE } from "../invoice-samples.ts";
import { cash, creditNote } from "../invoices/invoice-database.ts";
import { CAN, VAN } from "../samples.ts";

const CYLINDER = { name: "C-17", refrigerant: "R-134a", condition: "new", most_g: 13_600, retired: false } as const;
const MOVE = { kind: "received", date: "2026-05-01", amount_g: 900, note: "" } as const;
const WORK = { technician: "Alex Moss", certificate: "", recovered_into: null, charged_from: null };
const DISMISSED = { outcome: "dismissed", words: "sold" } as const;

/** A shop with one of everything that quotes and records are not. */
async function opened(store: WorkspaceStore) {
  const robin = await store.customers.create(ROBIN);
  const about = await acceptedQuote(store, robin.id);
  await store.customers.setParticulars(about.vehicle_id, 0, { ...ON_PAPER, customer_id: robin.id });
  const another = await acceptedQuote(store, robin.id);
  const invoice = await store.invoices.issue(about, INVOICE, 1);
  const payment = await store.invoices.pay(invoice.id, cash(1_00));
  const cylinder = await store.refrigerantLog.create(CYLINDER);
  await store.refrigerantLog.addMove(cylinder.id, MOVE);
  const [move] = await store.refrigerantLog.lines(cylinder.id);
  const entry = await store.chargeLog.add(about.vehicle_id, CAN);
  await store.followUps.close(about.vehicle_id, "watch.2026-05-04", DISMISSED);
  await store.webhooks.save("https://shop.example/m", 0);
  await store.webhooks.sendTest();
  const [message] = await store.webhooks.messages(1);
  return {
    ...{ robin: robin.id, vehicle: about.vehicle_id, quote: about.quote_id, another, invoice },
    ...{ payment: payment.id, cylinder: cylinder.id, move: move!.move_id ?? "", entry: entry.id, message: message!.id },
  };
}
type Shop = Awaited<ReturnType<typeof opened>>;
type Call = (store: WorkspaceStore, shop: Shop) => Promise<unknown>;

/** What changes something: who it takes, and what a stranger who has guessed the ids is told; null: nothing happens. */
const CHANGING: [name: string, needed: Role, told: string | null, call: Call][] = [
  ["customers.create", "editor", null, (store) => store.customers.create({ ...ROBIN, name: "Kim" })],
  ["customers.update", "editor", "not-found", (store, { robin }) => store.customers.update(robin, 1, ROBIN)],
  [
    "customers.setParticulars",
    "editor",
    "not-found",
    (store, { vehicle }) => store.customers.setParticulars(vehicle, 1, { ...ON_PAPER, customer_id: null }),
  ],
  ["customers.erase", "owner", "not-found", (store, { robin }) => store.customers.erase(robin, 1, { invoices: true })],
  ["invoices.issue", "editor", "changed", (store, { another }) => store.invoices.issue(another, INVOICE, 1)],
  ["invoices.credit", "editor", "changed", (store, { invoice }) => store.invoices.credit(invoice, creditNote(1_00))],
  ["invoices.pay", "editor", "changed", (store, { invoice }) => store.invoices.pay(invoice.id, cash(1_00))],
  [
    "invoices.reverse",
    "editor",
    "not-found",
    (store, { invoice, payment }) => store.invoices.reverse(invoice.id, payment, "2026-05-03"),
  ],
  ["refrigerantLog.create", "editor", null, (store) => store.refrigerantLog.create({ ...CYLINDER, name: "C-18" })],
  [
    "refrigerantLog.update",
    "editor",
    "not-found",
    (store, { cylinder }) => store.refrigerantLog.update(cylinder, 1, { ...CYLINDER, retired: true }),
  ],
  [
    "refrigerantLog.addMove",
    "editor",
    "not-found",
    (store, { cylinder }) => store.refrigerantLog.addMove(cylinder, MOVE),
  ],
  [
    "refrigerantLog.removeMove",
    "editor",
    "not-found",
    (store, { cylinder, move }) => store.refrigerantLog.removeMove(cylinder, move),
  ],
  ["refrigerantLog.setWork", "editor", "not-found", (store, { entry }) => store.refrigerantLog.setWork(entry, 0, WORK)],
  [
    "followUps.close",
    "editor",
    "not-found",
    (store, { vehicle }) => store.followUps.close(vehicle, "watch.2026-06-04", DISMISSED),
  ],
  ["followUps.reopen", "editor", null, (store, { vehicle }) => store.followUps.reopen(vehicle, "watch.2026-05-04")],
  ["webhooks.save", "owner", null, async (store) => store.webhooks.save("https://x.example/", 0)],
  ["webhooks.sendAgain", "owner", "not-found", (store, { message }) => store.webhooks.sendAgain(message)],
  ["webhooks.sendTest", "owner", null, (store) => store.webhooks.sendTest()],
  ["webhooks.remove", "owner", null, (store) => store.webhooks.remove()],
];

/** What reads one thing by its id. */
const READING: [name: string, call: Call][] = [
  ["customers.get", (store, { robin }) => store.customers.get(robin)],
  ["customers.particulars", (store, { vehicle }) => store.customers.particulars(vehicle)],
  ["invoices.get", (store, { invoice }) => store.invoices.get(invoice.id)],
  ["invoices.account", (store, { invoice }) => store.invoices.account(invoice.id)],
  ["refrigerantLog.cylinder", (store, { cylinder }) => store.refrigerantLog.cylinder(cylinder)],
  ["refrigerantLog.entry", (store, { entry }) => store.refrigerantLog.entry(entry)],
];

/** What lists, and shows a stranger nothing. */
const LISTS: [name: string, call: Call][] = [
  ["customers.list", async (store) => (await store.customers.list({})).items],
  ["customers.vehiclesOf", (store, { robin }) => store.customers.vehiclesOf(robin)],
  ["invoices.search", (store) => store.invoices.search({ text: "", open: false, before: null, limit: 9 })],
  ["invoices.ofCustomer", (store, { robin }) => store.invoices.ofCustomer(robin)],
  ["invoices.ofQuote", (store, { quote }) => store.invoices.ofQuote(quote)],
  ["refrigerantLog.cylinders", (store) => store.refrigerantLog.cylinders()],
  ["refrigerantLog.lines", (store, { cylinder }) => store.refrigerantLog.lines(cylinder)],
  ["refrigerantLog.year", (store) => store.refrigerantLog.year(2026)],
  ["followUps.closedKeys", async (store) => [...(await store.followUps.closedKeys())]],
  ["followUps.closedLately", (store) => store.followUps.closedLately(9)],
  ["followUps.closedOf", (store, { vehicle }) => store.followUps.closedOf(vehicle)],
  ["followUps.reachable", (store) => store.followUps.reachable()],
  ["webhooks.messages", (store) => store.webhooks.messages(9)],
];

describe.each(engines)("a shop's lists on $name", ({ start }) => {
  const database = new Database(start);

  const as = (store: WorkspaceStore, role: Role) =>
    workspaceStore({
      ...{ sql: database.sql, workspaceId: store.workspaceId },
      ...{ role, actor: role, now: testClock(), random },
    });

  const stateOf = async (store: WorkspaceStore, shop: Shop) => [
    { ...(await store.transfer.export()), exported_at: "" },
    await Promise.all([...READING, ...LISTS].map(([, call]) => call(store, shop))),
    await store.webhooks.get(),
  ];

  test("the tables of methods leave none out", async () => {
    const store = await database.newStore();
    const named = new Set([...CHANGING, ...READING, ...LISTS].map(([name]) => name));
    // What a deposit still counts for is a number, looked at below; what `refrigerantLog.addition` gives is written
    // by `quotes.logWork`.
    const others = ["invoices.openDeposit", "webhooks.get", "refrigerantLog.addition"];
    const parts = ["customers", "invoices", "refrigerantLog", "followUps", "webhooks"] as const;
    const methods = parts.flatMap((part) =>
      Object.getOwnPropertyNames(Object.getPrototypeOf(store[part])).map((method) => `${part}.${method}`),
    );
    expect(
      methods.filter((name) => !name.endsWith(".constructor") && !named.has(name) && !others.includes(name)),
    ).toEqual([]);
  });

  test("from another workspace, guessed ids find nothing and change nothing", async () => {
    const store = await database.newStore();
    const shop = await opened(store);
    const before = await stateOf(store, shop);
    const stranger = await database.newStore();
    for (const [name, call] of READING)
      await expect(call(stranger, shop), name).rejects.toMatchObject({ code: "not-found" });
    for (const [name, call] of LISTS) expect(await call(stranger, shop), name).toEqual([]);
    expect(await stranger.invoices.openDeposit(shop.quote)).toBe(0);
    for (const [name, , told, call] of CHANGING)
      if (told === null) await call(stranger, shop);
      else await expect(call(stranger, shop), name).rejects.toMatchObject({ code: told });
    expect(await stateOf(store, shop)).toEqual(before);
  });

  test.each<Role>(["viewer", "editor"])(
    "a person who may only be %s reads all, and changes what that takes",
    async (role) => {
      const store = await database.newStore();
      const shop = await opened(store);
      const before = await stateOf(store, shop);
      const restricted = as(store, role);
      for (const [name, needed, , call] of CHANGING) {
        if (needed === role) continue;
        await expect(call(restricted, shop), name).rejects.toMatchObject({ code: "forbidden" });
      }
      expect(await stateOf(restricted, shop)).toEqual(before);
      expect((await restricted.vehicles.list({ search: VAN.label })).items).not.toEqual([]);
    },
  );
});
