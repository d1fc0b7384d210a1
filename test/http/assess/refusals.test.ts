import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { TODAY } from "../../support/deps.ts";
import { RuntimeDesk } from "../../support/runtime-desk.ts";
import { runtimes } from "../../support/runtimes.ts";
import { QUESTION, VEHICLE } from "./questions.ts";

describe.each(runtimes)("what POST /api/assess refuses on $name", ({ name, start }) => {
  const desk = new RuntimeDesk(start);
  // The Workers runtime answers over a socket: some eight milliseconds a call before the model has begun.
  const few = { numRuns: name === "Node" ? 100 : 25 };

  const refused = async (request: unknown) => {
    const response = await desk.ask("/api/assess", request);
    expect(response.status).toBe(422);
    const { error } = (await response.json()) as {
      error: { message: string; issues: { path: string; message: string }[] };
    };
    expect(error.message).toMatch(/\w/);
    for (const issue of error.issues)
      expect(issue).toEqual({ path: expect.any(String), message: expect.stringMatching(/\w/) });
    return error.issues.map(({ path }) => path);
  };

  test("random wrong values are refused where they stand", async () => {
    const wrong = fc.oneof(
      fc.constantFrom("🥶", "", "12 oz", {}, [[]], 1e12, -1e12),
      fc.string({ minLength: 12 }),
      fc.dictionary(fc.string(), fc.integer(), { minKeys: 1 }),
    );
    const places: ((value: unknown) => [path: string, request: unknown])[] = [
      (value) => ["as_of", { ...QUESTION, as_of: value }],
      (value) => ["vehicle.refrigerant", { ...QUESTION, vehicle: { ...VEHICLE, refrigerant: value } }],
      (value) => ["vehicle.nameplate_g", { ...QUESTION, vehicle: { ...VEHICLE, nameplate_g: value } }],
      (value) => ["log.1.date", { ...QUESTION, log: [{ date: TODAY }, { date: value }] }],
      (value) => ["log.0.added_g", { ...QUESTION, log: [{ date: TODAY, added_g: value }] }],
      (value) => ["log.0.cooling", { ...QUESTION, log: [{ date: TODAY, cooling: value }] }],
      (value) => ["plan.keep_years", { ...QUESTION, plan: { keep_years: value } }],
      (value) => ["prices.locations.hose.holds", { ...QUESTION, prices: { locations: { hose: { holds: value } } } }],
      (value) => ["assumptions.low_fraction", { ...QUESTION, assumptions: { low_fraction: value } }],
    ];
    await fc.assert(
      fc.asyncProperty(fc.constantFrom(...places), wrong, async (place, value) => {
        const [path, request] = place(value);
        const found = await refused(request);
        expect(found.some((one) => one === path || one.startsWith(`${path}.`))).toBe(true);
      }),
      few,
    );
  });

  test("random JSON of any kind is refused with a path for each issue", async () => {
    await fc.assert(
      fc.asyncProperty(fc.jsonValue(), async (value) => {
        expect((await refused(value)).length).toBeGreaterThan(0);
      }),
      few,
    );
  });

  test("unknown fields, future dates and too large a charge are each told where they stand", async () => {
    const request = {
      as_of: TODAY,
      vehicle: { ...VEHICLE, colour: "red" },
      log: [{ date: "2026-05-02" }, { date: "2025-05-01" }, { date: "2025-06-01", added_g: 1951 }],
    };
    expect(await refused(request)).toEqual(["vehicle.colour", "log.0.date", "log.2.added_g"]);
  });

  test.each(["", "{", "as_of=2026-05-01", '{"as_of": NaN}', "{'as_of': 1}", "\u0000", "[".repeat(100_000)])(
    "a body that is not JSON is answered 400 (%#)",
    async (body) => {
      const response = await desk.send("/api/assess", body);
      expect(response.status).toBe(400);
      expect(await response.json()).toEqual({ error: { message: expect.stringMatching(/is not JSON/), issues: [] } });
    },
  );

  test.each([
    "text/plain",
    "application/x-www-form-urlencoded",
    "application/jsonp",
    "multipart/form-data; boundary=x",
  ])("JSON sent as %s is answered 400 or, as a form from nowhere, 403", async (content_type) => {
    const response = await desk.app.request("/api/assess", {
      method: "POST",
      headers: { "Content-Type": content_type, "Sec-Fetch-Site": "same-origin" },
      body: JSON.stringify(QUESTION),
    });
    expect(response.status).toBe(400);
    expect(await response.json()).toMatchObject({ error: { message: expect.stringMatching(/application\/json/) } });
    expect((await desk.send("/api/assess", JSON.stringify(QUESTION), content_type)).status).toBe(
      content_type === "application/jsonp" ? 400 : 403,
    );
  });

  test("a body of 300 kB is answered 413; one just under the limit is read", async () => {
    const large = await desk.ask("/api/assess", { ...QUESTION, notes: "x".repeat(300_000) });
    expect(large.status).toBe(413);
    expect(await large.json()).toEqual({ error: { message: "Send at most 256 KiB at once.", issues: [] } });
    const text = JSON.stringify({ ...QUESTION, notes: "" });
    const padded = text.replace('"notes":""', `"notes":"${"x".repeat(256 * 1024 - text.length)}"`);
    expect(padded).toHaveLength(256 * 1024);
    expect((await desk.send("/api/assess", padded)).status).toBe(422);
    expect((await desk.send("/api/assess", `${padded} `)).status).toBe(413);
  });

  test("GET is answered 405", async () => {
    const response = await desk.app.request("/api/assess");
    expect(response.status).toBe(405);
    expect(response.headers.get("Allow")).toBe("POST");
  });
});
