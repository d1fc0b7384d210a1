import {
  type FleetOrder,
  type FleetPlan,
  ORDER_OPTIONS,
  type OrderOfVehicle,
  type RecordedWork,
} from "../core/fleet/order.ts";
import { insertRows } from "./bulk.ts";
import { type Columns, flag, json, namesOf, nullable, number, oneOf, rowReader, rowWriter, text } from "./columns.ts";
import { notFound } from "./errors.ts";
import { AGED_VEHICLE } from "./fleet-columns.ts";
import { notReplaced } from "./ledger.ts";
import { guard, type Scope, type SubmitKey } from "./scope.ts";
import type { Statement } from "./sql.ts";
import { atVersion, versionedChange } from "./versioned-change.ts";

const PLAN: Columns<FleetPlan> = {
  year: number,
  terms: json(),
  currency: text,
  version: number,
  created_at: text,
  created_by: text,
  updated_at: text,
  updated_by: text,
};
const ORDER: Columns<FleetOrder> = {
  id: text,
  year: number,
  vehicle_id: text,
  option: oneOf(ORDER_OPTIONS),
  price: number,
  month: text,
  depot: nullable(text),
  saves: number,
  avoids_kg: number,
  held: flag,
  carried_from: nullable(number),
  done_on: nullable(text),
  paid: nullable(number),
  done_by: nullable(text),
  lifted_lock: flag,
  version: number,
  updated_at: text,
  updated_by: text,
};

export const SELECT_PLANS = `SELECT ${namesOf(PLAN).join(", ")} FROM fleet_plans`;
export const planOf = rowReader(PLAN);
export const planRow = rowWriter(PLAN);
export const SELECT_ORDERS = `SELECT ${namesOf(ORDER).join(", ")} FROM fleet_orders`;
export const orderOf = rowReader(ORDER);
export const orderRow = rowWriter(ORDER);

/** An order as a plan makes it. */
export type PlannedOrder = Pick<
  FleetOrder,
  "vehicle_id" | "option" | "price" | "month" | "depot" | "saves" | "avoids_kg" | "held" | "carried_from"
>;

/** The plan of each year, and its work orders. */
export class FleetPlans {
  readonly #scope: Scope;

  constructor(scope: Scope) {
    this.#scope = scope;
  }

  /** All plans, the latest year first. */
  async list(): Promise<FleetPlan[]> {
    return (await this.#scope.all(`${SELECT_PLANS} WHERE workspace_id = :workspace ORDER BY year DESC`)).map(planOf);
  }

  async find(year: number): Promise<FleetPlan | null> {
    const [row] = await this.#scope.all(`${SELECT_PLANS} WHERE workspace_id = :workspace AND year = ?`, [year]);
    return row === undefined ? null : planOf(row);
  }

  /** The orders of a year, by depot, month and vehicle. */
  async orders(year: number): Promise<OrderOfVehicle[]> {
    const rows = await this.#scope.all(
      `SELECT ${namesOf(ORDER)
        .map((name) => `o.${name} AS o_${name}`)
        .join(", ")}, ${namesOf(AGED_VEHICLE)
        .map((name) => `v.${name}`)
        .join(", ")}, v.archived_at, NOT EXISTS (SELECT 1 FROM charge_log AS line
           WHERE line.workspace_id = v.workspace_id AND line.vehicle_id = v.id AND line.change <> 'removed'
             AND ${notReplaced("charge_log")}) AS no_entries
       FROM fleet_orders AS o JOIN vehicles AS v ON v.workspace_id = o.workspace_id AND v.id = o.vehicle_id
       WHERE o.workspace_id = :workspace AND o.year = ?
       ORDER BY o.depot NULLS LAST, o.month, v.sort_key, o.id`,
      [year],
    );
    return rows.map((row) => ({
      ...orderOf(Object.fromEntries(namesOf(ORDER).map((name) => [name, row[`o_${name}`]!]))),
      vehicle: vehicleOf(row),
      archived: row.archived_at !== null,
      no_entries: flag.read(row.no_entries),
    }));
  }

  /** What the records say was repaired or tested in a year, in the vehicles that have an order then. */
  work(year: number): Promise<RecordedWork[]> {
    const ofTable = (table: string, what: string, condition: string) =>
      `SELECT line.vehicle_id, line.id, line.date, '${what}' AS what FROM ${table} AS line
       WHERE line.workspace_id = :workspace AND line.change <> 'removed' AND ${notReplaced(table)} AND ${condition}
         AND line.date BETWEEN ? AND ? AND line.vehicle_id IN (
           SELECT vehicle_id FROM fleet_orders WHERE workspace_id = :workspace AND year = ?)`;
    // Work of the last days of a year may be ticked off in the next.
    const span = [`${year}-01-01`, `${year + 1}-01-31`, year];
    return this.#scope.all<RecordedWork & Record<string, string>>(
      `${ofTable("charge_log", "repair", "line.repair IS NOT NULL")}
       UNION ALL ${ofTable("findings", "test", "true")} ORDER BY 1, 3, 2`,
      [...span, ...span],
    );
  }

  /**
   * Saves a year's plan with `orders` in place of those that do not stand. `version` is that of the plan that it
   * replaces, 0 where there is none. Throws `Conflict` with the plan when someone else was first.
   */
  async save(
    { year, terms, currency }: Pick<FleetPlan, "year" | "terms" | "currency">,
    orders: readonly PlannedOrder[],
    version: number,
    key: SubmitKey = null,
  ): Promise<void> {
    const at = this.#scope.now();
    const { actor } = this.#scope;
    const made = { version: 1, updated_at: at, updated_by: actor };
    const plan: Statement = {
      sql: `INSERT INTO fleet_plans (workspace_id, year, terms, currency, version, created_at, created_by, updated_at, updated_by)
        SELECT :workspace, ?, ?, ?, ?, ?, ?, ?, ? WHERE true
        ON CONFLICT (workspace_id, year) DO UPDATE SET terms = excluded.terms, currency = excluded.currency,
          version = excluded.version, updated_at = excluded.updated_at, updated_by = excluded.updated_by`,
      params: [year, JSON.stringify(terms), currency, version + 1, at, actor, at, actor],
    };
    await versionedChange(this.#scope, {
      statements: [
        ofYear(year, version),
        plan,
        {
          sql: "DELETE FROM fleet_orders WHERE workspace_id = :workspace AND year = ? AND done_on IS NULL AND held = 0",
          params: [year],
        },
        ...insertRows(
          "fleet_orders",
          orders.map((order) =>
            orderRow({
              ...order,
              ...made,
              id: this.#scope.newId(),
              year,
              done_on: null,
              paid: null,
              done_by: null,
              lifted_lock: false,
            }),
          ),
        ),
      ],
      read: () => this.find(year),
      key,
      content: [year, terms, orders, version],
      subject_id: String(year),
      subject_version: version + 1,
    });
  }

  async order(id: string): Promise<FleetOrder> {
    const [row] = await this.#scope.all(`${SELECT_ORDERS} WHERE workspace_id = :workspace AND id = ?`, [id]);
    if (row === undefined) throw notFound("work order");
    return orderOf(row);
  }

  /** Ticks an order off; that ends "always repair" for its vehicle. Throws `Conflict` with the order as it is. */
  async tickOff(
    id: string,
    version: number,
    { done_on, paid }: { done_on: string; paid: number | null },
    key: SubmitKey = null,
  ): Promise<void> {
    const { vehicle_id } = await this.order(id);
    await this.#change(
      id,
      version,
      key,
      ["done", done_on, paid],
      [
        {
          sql: `UPDATE fleet_orders SET done_on = ?, paid = ?, done_by = ?, lifted_lock = (option = 'repair' AND EXISTS (
            SELECT 1 FROM fleet_locks WHERE workspace_id = :workspace AND vehicle_id = ? AND repair = 'must'))
          WHERE workspace_id = :workspace AND id = ?`,
          params: [done_on, paid, this.#scope.actor, vehicle_id, id],
        },
        {
          sql: `DELETE FROM fleet_locks WHERE workspace_id = :workspace AND vehicle_id = ? AND repair = 'must'
          AND EXISTS (SELECT 1 FROM fleet_orders WHERE workspace_id = :workspace AND id = ? AND lifted_lock = 1)`,
          params: [vehicle_id, id],
        },
      ],
    );
  }

  /** Takes a tick back, with "always repair" if it ended that. */
  async takeBack(id: string, version: number, key: SubmitKey = null): Promise<void> {
    await this.#change(
      id,
      version,
      key,
      ["open"],
      [
        {
          sql: `INSERT INTO fleet_locks (workspace_id, vehicle_id, repair)
          SELECT :workspace, vehicle_id, 'must' FROM fleet_orders AS o
          WHERE o.workspace_id = :workspace AND o.id = ? AND o.lifted_lock = 1 AND NOT EXISTS (
            SELECT 1 FROM fleet_locks AS l WHERE l.workspace_id = o.workspace_id AND l.vehicle_id = o.vehicle_id)`,
          params: [id],
        },
        {
          sql: `UPDATE fleet_orders SET done_on = NULL, paid = NULL, done_by = NULL, lifted_lock = 0
          WHERE workspace_id = :workspace AND id = ?`,
          params: [id],
        },
      ],
    );
  }

  /** Whether an order stays when the rest is planned anew. */
  async hold(id: string, version: number, held: boolean, key: SubmitKey = null): Promise<void> {
    await this.#change(
      id,
      version,
      key,
      ["held", held],
      [
        {
          sql: "UPDATE fleet_orders SET held = ? WHERE workspace_id = :workspace AND id = ?",
          params: [held ? 1 : 0, id],
        },
      ],
    );
  }

  /** Puts an order into another month, or says another price; it stays so when the rest is planned anew. */
  async move(
    id: string,
    version: number,
    { month, price }: Pick<FleetOrder, "month" | "price">,
    key: SubmitKey = null,
  ): Promise<void> {
    await this.#change(
      id,
      version,
      key,
      ["moved", month, price],
      [
        {
          sql: `UPDATE fleet_orders SET month = ?, price = ?, held = 1
            WHERE workspace_id = :workspace AND id = ? AND done_on IS NULL`,
          params: [month, price, id],
        },
      ],
    );
  }

  async #change(id: string, version: number, key: SubmitKey, content: unknown, changes: readonly Statement[]) {
    const at = this.#scope.now();
    const touched = [at, this.#scope.actor, id];
    await versionedChange(this.#scope, {
      statements: [
        atVersion("fleet_orders", version, { id }),
        ...changes,
        {
          sql: `UPDATE fleet_orders SET version = version + 1, updated_at = ?, updated_by = ?
            WHERE workspace_id = :workspace AND id = ?`,
          params: touched,
        },
        {
          sql: `UPDATE fleet_plans SET version = version + 1, updated_at = ?, updated_by = ? WHERE workspace_id = :workspace
            AND year = (SELECT year FROM fleet_orders WHERE workspace_id = :workspace AND id = ?)`,
          params: touched,
        },
      ],
      read: () => this.order(id),
      key,
      content: [id, version, content],
      subject_id: id,
      subject_version: version + 1,
    });
  }
}

const vehicleOf = rowReader(AGED_VEHICLE);

/** Undoes its batch unless the plan of `year` is at `version`; 0: there is none. */
function ofYear(year: number, version: number): Statement {
  return guard("coalesce((SELECT version FROM fleet_plans WHERE workspace_id = :workspace AND year = ?), 0) = ?", [
    year,
    version,
  ]);
}
