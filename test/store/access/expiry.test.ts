import { describe, expect, test } from "vitest";
import { Database } from "../database.ts";
import { engines } from "../engines.ts";

describe.each(engines.slice(0, 1))("sessions on $name", ({ start }) => {
  const database = new Database(start);

  test("those that have ended are found without reading all of them", async () => {
    const plan = await database.sql.all<{ detail: string }>(
      "EXPLAIN QUERY PLAN DELETE FROM sessions WHERE expires_at < ?",
      ["2026-05-01T12:00:00.000Z"],
    );
    expect(plan.map(({ detail }) => detail).join("\n")).toMatch(/SEARCH sessions USING .*INDEX sessions_by_expiry/);
  });
});
