import { describe, expect, test } from "vitest";
import { RuntimeDesk } from "../support/runtime-desk.ts";
import { runtimes } from "../support/runtimes.ts";

describe.each(runtimes)("GET /rules on $name", ({ start }) => {
  const desk = new RuntimeDesk(start);

  test("says who may do what, with the text's citation", async () => {
    const { status, text } = await desk.page("/rules?place=us-wi&date=2026-05-01");
    expect(status).toBe(200);
    expect(text).toContain("ATCP 136.16");
    expect(text).toContain("not legal advice");
  });

  test("a place or a date that is none", async () => {
    const { status, text } = await desk.page("/rules?place=mars&date=soon");
    expect(status).toBe(422);
    for (const field of ["place", "date"]) expect(text).toContain(`href="#${field}"`);
  });

  // California Air Resources Board: the deposit ended on 2025-01-01.
  test("shows a rule that ended as ended", async () => {
    const heading = "No longer in force";
    expect((await desk.page("/rules?place=us-ca&date=2024-06-01")).text).not.toContain(heading);
    expect((await desk.page("/rules?place=us-ca&date=2025-06-01")).text).toContain(heading);
  });
});
