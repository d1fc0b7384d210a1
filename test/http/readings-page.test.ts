import { describe, expect, test } from "vitest";
import { FINDING_IDS } from "../../src/core/readings/readings-contract.ts";
import { RuntimeDesk } from "../support/runtime-desk.ts";
import { runtimes } from "../support/runtimes.ts";

describe.each(runtimes)("GET /readings on $name", ({ start }) => {
  const desk = new RuntimeDesk(start);

  test("opens with an empty form", async () => {
    const { status, text } = await desk.page("/readings");
    expect(status).toBe(200);
    expect(text).toContain("Nearly half of all poor cooling is not low charge");
  });

  test("says what readings mean, and keeps what was typed", async () => {
    const { status, text } = await desk.page("/readings?ambient=85&low=15&high=120");
    expect(status).toBe(200);
    expect(text).toContain("It is low on refrigerant.");
    expect(text).toMatch(/<input[^>]*name="low"[^>]*value="15"/);
  });

  test("on a freezing day asks for no vent air below freezing; differences are in the gauge's unit", async () => {
    const { text: cold } = await desk.page("/readings?units=us&ambient=30&low=20&high=100");
    expect(cold).toContain("<dt>High side, running</dt>");
    expect(cold).not.toContain("<dt>Vent air</dt>");
    const { text: warm } = await desk.page("/readings?units=metric&gauge=bar-gauge&ambient=30&low=2.4&high=14");
    expect(warm).toMatch(/<dt>Vent air<\/dt><dd>\d+\s°C or colder/);
    expect(warm).toMatch(/by up to 9\sbar on the high side/);
  });

  test("names every field that cannot be read, and the missing air temperature", async () => {
    const { status, text } = await desk.page("/readings?low=abc&high=%F0%9F%98%80&vent=-500&rpm=fast");
    expect(status).toBe(422);
    for (const field of ["ambient", "low", "high", "vent", "rpm"]) expect(text).toContain(`href="#${field}"`);
    expect(text).toContain('value="abc"');
    expect(text).toMatch(/<title>Error: /);
  });

  test("°F and psi, °C and bar, °C and kPa of the same readings say the same", async () => {
    const shares = async (query: string) => {
      const { text } = await desk.page(`/readings?${query}`);
      return [...text.matchAll(/class="finding-chance">([^<]*)</g)].map(([, share]) => share);
    };
    const us = await shares("ambient=86&static=98&low=20&high=150&vent=68");
    expect(us.length).toBe(FINDING_IDS.length);
    // 1 psi is 6.894757 kPa; 86 °F is 30 °C, 68 °F is 20 °C.
    const metric = "units=metric&ambient=30&vent=20";
    expect(await shares(`${metric}&gauge=bar-gauge&static=6.756862&low=1.378951&high=10.342136`)).toEqual(us);
    expect(await shares(`${metric}&gauge=kPa-gauge&static=675.6862&low=137.8951&high=1034.2136`)).toEqual(us);
    expect(await shares(`${metric}&gauge=kPa-absolute&static=777.0112&low=239.2201&high=1135.5386`)).toEqual(us);
  });

  test("a change of units keeps what was typed, with its unit", async () => {
    const typed = "typed_in=us&typed_gauge=psi-gauge&units=metric&gauge=bar-gauge";
    const { text } = await desk.page(
      `/readings?${typed}&ambient=86&altitude=5000&low=20&high=150&vent=68&nameplate=23`,
    );
    for (const value of ["86 °F", "5000 ft", "20 psi", "150 psi", "68 °F", "23 oz"])
      expect(text).toContain(`value="${value}"`);
  });

  // R-134a at 20 °C stands at 571.7 kPa absolute (saturation-R-134a.csv): 68.2 psi over sea-level air, and 71.4 psi
  // over the 79.5 kPa of 2000 m (US Standard Atmosphere 1976).
  test("at an altitude a gauge reads from the thinner air there, in and out", async () => {
    const said = "the gauges read 68\u00a0psi";
    expect((await desk.page("/readings?ambient=68&static=68")).text).toContain(said);
    const { text } = await desk.page("/readings?ambient=68&static=71&altitude=2000+m");
    expect(text).toContain("the gauges read 71\u00a0psi");
    expect(text).toContain("Yours does, so some liquid is left");
    expect((await desk.page("/readings?ambient=68&altitude=40000")).status).toBe(422);
  });
});
