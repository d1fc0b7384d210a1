import { Database } from "../database.ts";
import { testClock } from "../engines.ts";
import { CONTENT, SNAPSHOT } from "../quote-samples.ts";
import { CAN, DYE_CLEAN, VAN } from "../samples.ts";

export const SENT = { content: CONTENT, snapshot: SNAPSHOT };
export const LAST_DAY = SNAPSHOT.valid_until;
export const YES = { option: "b", name: "Robin Ames", keep_years: 6 };

export const WORK = { date: "2026-05-02", option: "b", follow_up_on: "2026-11-02" };
export const DONE = { work: WORK, charge_log: [{ ...CAN, repair: "hose" as const }], findings: [DYE_CLEAN] };

/** A database with what a quote is made from. */
export class QuoteDatabase extends Database {
  /** What a customer's request has at hand. */
  edge() {
    return { sql: this.sql, now: testClock() };
  }

  async storeWithVehicle() {
    const store = await this.newStore();
    const { id: vehicle } = await store.vehicles.create(VAN, { charge_log: [CAN] });
    return { store, vehicle };
  }

  async sentQuote() {
    const { store, vehicle } = await this.storeWithVehicle();
    const draft = await store.quotes.create(vehicle, CONTENT);
    const { quote, token } = await store.quotes.send(draft.id, 1, SENT);
    return { store, vehicle, quote, token: token! };
  }
}
