import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type Runtime, runtimes } from "../support/runtimes.ts";

const LOG =
  "units=us&refrigerant=R-134a&nameplate=23+oz&when=2025-05-01&did=cans-gauges&amount=10+oz&cooled=weak&today=weak&keep=5";
const at = (where: string, more = "service=shop&as_of=2026-05-01") => `/?${LOG}&where=${where}&${more}`;

describe.each(runtimes)("where the vehicle is, on $name", ({ start }) => {
  let app: Runtime;
  beforeAll(async () => {
    app = await start();
  });
  afterAll(() => app.close());

  const page = async (path: string) => {
    const response = await app.request(path);
    return { status: response.status, text: plain(await response.text()) };
  };
  const row = (text: string, option: string) =>
    new RegExp(`<tr[^>]*data-option="${option}"[\\s\\S]*?</tr>`).exec(text)?.[0];

  // Wis. Admin. Code ATCP 136.16(1), (2).
  test("Wisconsin: a shop may not top off; the answer says which rule, and where it stands", async () => {
    const { status, text } = await page(at("us-wi"));
    expect(status).toBe(200);
    expect(row(text, "top-off")).toContain("not allowed here");
    expect(row(text, "dye-test")).toContain("not allowed here");
    expect(row(text, "repair")).not.toContain("barred");
    expect(text).toContain("A shop may not top it off");
    expect(text).toContain('href="/rules?place=us-wi&amp;date=2026-05-01#us-wi-leak-repair"');
    expect(text).toContain("ATCP 136.16(1), (2)");
    expect(text).toContain("Check your local code; this is not legal advice.");
  });

  test("Wisconsin: who tops off their own vehicle is not barred, and sees what holds", async () => {
    const { text } = await page(at("us-wi", "service=diy&as_of=2026-05-01"));
    expect(text).not.toContain("not allowed here");
    expect(text).toContain("We know of no rule that limits these options here.");
    expect(text).toContain("#us-small-can");
    expect(text).toContain("Check your local code");
  });

  test("nothing said: nothing barred, and the page asks where it is", async () => {
    const { text } = await page(`/?${LOG}&service=shop&as_of=2026-05-01`);
    expect(text).not.toContain("not allowed here");
    expect(text).toContain('<a href="#where">Choose where it is</a>');
    expect(text).toMatch(/<option value="elsewhere" selected/);
  });

  // California Air Resources Board: $10 a can, until 2025-01-01; nine of ten cans come back (the model's default).
  test("California's deposit is in the price until the day it ended, and not after", async () => {
    const cost = async (where: string, as_of: string) => {
      const log = `units=us&refrigerant=R-134a&nameplate=23+oz&when=2023-05-01&did=cans&amount=10+oz&cooled=weak&today=weak`;
      const { text } = await page(`/?${log}&keep=5&service=diy&tools=yes&where=${where}&as_of=${as_of}`);
      return Number(/class="money" value="([\d.]+)"/.exec(row(text, "top-off") ?? "")?.[1]);
    };
    expect(await cost("us-ca", "2024-06-01")).toBeGreaterThan(await cost("us", "2024-06-01"));
    expect(await cost("us-ca", "2025-06-01")).toBe(await cost("us", "2025-06-01"));
  });

  test("it goes along to the plan, the readings and the rules, and back", async () => {
    const { text } = await page(at("us-wi"));
    for (const link of [/href="\/top-off\?[^"]*where=us-wi/, /href="\/readings\?[^"]*where=us-wi/])
      expect(text).toMatch(link);
    expect(text).toContain('href="/rules?place=us-wi"');
    const plan = await page(at("us-wi").replace("/?", "/top-off?"));
    expect(plan.text).toMatch(/<option value="us-wi" selected/);
    expect(plan.text).toMatch(/href="\/\?[^"]*where=us-wi/);
    const readings = await page(at("us-wi").replace("/?", "/readings?"));
    expect(readings.text).toMatch(/<input type="hidden" name="where" value="us-wi"/);
  });

  test("it stays as it was chosen when something else is to be put right", async () => {
    const { status, text } = await page(`${at("us-wi")}&quote=lots&go=1`);
    expect(status).toBe(422);
    expect(text).toMatch(/<option value="us-wi" selected/);
  });

  test("a place that is none is named at its field", async () => {
    const { status, text } = await page(`${at("moon")}&go=1`);
    expect(status).toBe(422);
    expect(text).toContain('href="#where"');
  });

  describe("readings that were taken for the question", () => {
    const readings = at("us-wi").replace("/?", "/readings?");

    // High/high with the fan stopped is poor airflow, not charge (trade training text T-22/8).
    test("say that it is not low: the answer is to check, and what", async () => {
      const { text } = await page(`${readings}&ambient=85&low=60&high=380&fan=stopped&more_air=drops`);
      const answer = /href="(\/\?[^"]*says=not-low[^"]*)"/.exec(text)?.[1]?.replaceAll("&amp;", "&");
      expect(answer).toMatch(/found=airflow/);
      expect(answer).toMatch(/where=us-wi/);
      expect(answer).toMatch(/amount=10(\+|%20)oz/);
      const { text: told } = await page(answer!);
      expect(told).toContain("The readings show that too little air moves over the condenser: check that first.");
      expect(told).toMatch(/<h2>Check first<\/h2>[\s\S]*Check that the fan starts/);
      expect(told).toContain("leave them out");
      expect(told).toMatch(/<input type="hidden" name="says" value="not-low"/);
    });

    // Low/low is undercharge: trade training text T-22/8.
    test("say that it is low: the question takes it along, and the plan too", async () => {
      const { text } = await page(`${readings}&ambient=85&low=15&high=120`);
      expect(text).toMatch(/href="\/\?[^"]*says=low&amp;found=low-charge/);
      const plan = /href="(\/top-off\?[^"]*)"/.exec(text)?.[1]?.replaceAll("&amp;", "&");
      const { text: told } = await page(plan!);
      expect(told).toMatch(/<option value="low" selected/);
      expect(told).toMatch(/<input[^>]*id="ambient"[^>]*value="85"/);
    });

    // Below saturation there is vapor alone. 20 psi is 239 kPa; by the ideal-gas law that is 9.7 g a litre at 29.4 °C,
    // and 2.6 mL a gram of 652 g make 1.7 L: 16 g and a little more, about half an ounce.
    test("show no liquid by a static pressure: the plan weighs the vapor and stops", async () => {
      const { text } = await page(`${readings}&ambient=85&static=20`);
      expect(text).toContain("It is nearly empty: no liquid is left.");
      const plan = /href="(\/top-off\?[^"]*)"/.exec(text)?.[1]?.replaceAll("&amp;", "&");
      const { text: told } = await page(plan!);
      expect(told).not.toContain('<ol class="steps">');
      expect(told).toMatch(/It holds about <b class="charge">0\.5\soz/);
    });

    test("without a question they can begin one", async () => {
      const { text } = await page("/readings?ambient=85&low=15&high=120&nameplate=23");
      expect(text).toMatch(/href="\/\?units=us&amp;refrigerant=R-134a&amp;nameplate=23[^"]*says=low/);
      expect(text).not.toContain("/top-off?");
    });

    test("what does not fit together is passed over", async () => {
      const { text } = await page(`${at("us-wi")}&says=not-low&found=low-charge`);
      expect(text).toContain("The readings show it is not low. Find the real fault first.");
      expect((await page(`${at("us-wi")}&says=maybe&found=%3Cb%3E`)).status).toBe(200);
    });
  });
});

/** Without what streams and entities add. */
function plain(text: string): string {
  return text.replaceAll("&#39;", "'").replaceAll("\u00a0", " ");
}
