import { expect, test } from "vitest";
import { migrate } from "../../src/store/migrations.ts";
import { NodeSql } from "../../src/store/node-sqlite.ts";
import type { Row, Sql, Statement } from "../../src/store/sql.ts";
import { newStore } from "./engines.ts";
import { CAN, VAN } from "./samples.ts";

const LEDGERS = ["charge_log", "findings", "readings"];

// A fleet is read a few vehicles at a time: if each time went through the ledger of all, a fleet of ten times the size
// would take a hundred times as long.
test("the ledgers of a few vehicles are found by vehicle, not by going through those of all", async () => {
  const sql = new NodeSql(":memory:");
  await migrate(sql);
  const heard = listening(sql);
  const store = await newStore(heard.sql);
  const van = await store.vehicles.create(VAN, { charge_log: [CAN] });
  heard.statements.length = 0;
  await store.records([van.id]);
  const plans = new Map<string, string[]>();
  for (const { sql: text, params = [] } of heard.statements) {
    const ledger = LEDGERS.find((one) => text.includes(`FROM ${one} AS line`));
    if (ledger === undefined) continue;
    const steps = await sql.all<{ detail: string }>(`EXPLAIN QUERY PLAN ${text}`, params);
    plans.set(
      ledger,
      steps.map(({ detail }) => detail),
    );
  }
  expect([...plans.keys()]).toEqual(LEDGERS);
  for (const [ledger, steps] of plans) {
    expect(
      steps.filter((step) => /\bline\b/.test(step)),
      ledger,
    ).toEqual([`SEARCH line USING INDEX ${ledger}_of_vehicle (workspace_id=? AND vehicle_id=?)`]);
  }
  sql.close();
});

/** The same database, and what was asked of it. */
function listening(sql: Sql): { sql: Sql; statements: Statement[] } {
  const statements: Statement[] = [];
  return {
    statements,
    sql: {
      place: sql.place,
      all<R extends object = Row>(text: string, params: Statement["params"] = []): Promise<R[]> {
        statements.push({ sql: text, params });
        return sql.all<R>(text, params);
      },
      batch(several) {
        statements.push(...several);
        return sql.batch(several);
      },
    },
  };
}
