import { describe, expect, test } from "vitest";
import { RuntimeDesk } from "../support/runtime-desk.ts";
import { runtimes } from "../support/runtimes.ts";

describe.each(runtimes)("GET /top-off on $name", ({ start }) => {
  const desk = new RuntimeDesk(start);

  const LOG =
    "units=metric&refrigerant=R-134a&nameplate=650&when=2025-05-01&did=cans&amount=250&cooled=weak&today=weak&keep=5&service=diy&as_of=2026-05-01";

  test("plans from the quick question's address", async () => {
    const { status, text } = await desk.page(
      `/top-off?${LOG}&ambient=30&compressor=belt&contents=as-labeled&where=us&says=low`,
    );
    expect(status).toBe(200);
    expect(text).toMatch(/[Aa]dd (\d+\sg first\. Then add )?small amounts( only)?, no more than \d+\sg in total\./);
    expect(text).toContain("Refrigerant goes in at the low side only.");
    expect(text).toMatch(/href="\/\?[^"]*did=cans-gauges/);
  });

  test("without a log it plans for the invented example, and says so", async () => {
    expect((await desk.page("/top-off")).text).toContain("for the sample vehicle");
  });

  test("sealer in the system, readings that say not low: no steps", async () => {
    for (const stop of ["contents=sealer", "says=not-low"]) {
      const { text } = await desk.page(
        `/top-off?${LOG}&${stop}&ambient=30&where=us&contents=as-labeled&compressor=belt`,
      );
      expect(text).not.toContain('<ol class="steps">');
    }
  });

  test("a log that cannot be read goes back to where it was typed", async () => {
    const response = await desk.app.request("/top-off?refrigerant=R-134a&nameplate=lots");
    expect(response.status).toBe(303);
    expect(response.headers.get("Location")).toMatch(/^\/\?.*nameplate=lots.*go=1$/);
  });

  test("what cannot be read of the form is named", async () => {
    const { status, text } = await desk.page(
      `/top-off?${LOG}&ambient=hot&where=moon&compressor=steam&says=so&seal=wax`,
    );
    expect(status).toBe(422);
    for (const field of ["ambient", "where", "compressor", "says", "seal"]) expect(text).toContain(`href="#${field}"`);
  });
});
