import { describe, expect, test } from "vitest";
import { RuntimeDesk } from "../support/runtime-desk.ts";
import { runtimes } from "../support/runtimes.ts";

describe.each(runtimes)("GET /leak-tests on $name", ({ start }) => {
  const desk = new RuntimeDesk(start);

  test("says how to look, everywhere", async () => {
    const { status, text } = await desk.page("/leak-tests");
    expect(status).toBe(200);
    for (const place of ["Service port", "Joint", "Hose", "Condenser", "Evaporator", "Compressor"])
      expect(text).toContain(place);
  });
});
