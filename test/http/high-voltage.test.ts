import Papa from "papaparse";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { createApp } from "../../src/app.ts";
import { NEW_VEHICLE } from "../../src/core/question/record.ts";
import { migrate } from "../../src/store/migrations.ts";
import { NodeSql } from "../../src/store/node-sqlite.ts";
import { workspaceStore } from "../../src/store/workspace-store.ts";
import { ensureLocalWorkspace, LOCAL_WORKSPACE } from "../../src/store/workspaces.ts";
import { testDeps } from "../support/deps.ts";
import { formIn, textOf } from "../support/page-form.ts";

/** A hybrid is a shop's vehicle on every page; the same vehicle without high voltage is its owner's. */

const random = (bytes: number) => crypto.getRandomValues(new Uint8Array(bytes));
const now = () => new Date("2026-05-01T12:00:00Z");
const LOG = [
  { date: "2024-06-14", cooling: "weak", added_g: 340, added_by: "cans" },
  { date: "2025-07-20", cooling: "weak", added_g: 340, added_by: "cans" },
  { date: "2026-05-01", cooling: "weak" },
] as const;

describe("a hybrid beside the same vehicle without high voltage", () => {
  let sql: NodeSql;
  let app: ReturnType<typeof createApp>;
  const ids = { hybrid: "", plain: "" };
  let oiled = "";
  beforeAll(async () => {
    sql = new NodeSql(":memory:");
    await migrate(sql);
    await ensureLocalWorkspace({ sql, now });
    app = createApp(testDeps({ sql: () => sql, random, now }));
    const store = workspaceStore({ sql, workspaceId: LOCAL_WORKSPACE, role: "owner", actor: "local", now, random });
    const vehicle = { ...NEW_VEHICLE, refrigerant: "R-134a", nameplate_g: 650 } as const;
    for (const [name, electric_compressor] of [
      ["hybrid", true],
      ["plain", false],
    ] as const)
      ids[name] = (
        await store.vehicles.create(
          { ...vehicle, label: `The ${name} one`, electric_compressor },
          { charge_log: [...LOG] },
        )
      ).id;
    oiled = (
      await store.vehicles.create(
        { ...vehicle, label: "An archived one", electric_compressor: true, dye_in_own_oil: true },
        { charge_log: [...LOG] },
      )
    ).id;
    await store.vehicles.archive(oiled, 1);
    const headers = { Origin: "http://localhost" };
    await app.request("/fleet/reckoning", { method: "POST", headers, body: new URLSearchParams() });
    for (let looks = 0; looks < 100; looks++)
      if (
        !(await (await app.request("/fleet/progress", { headers: { "HX-Request": "true" } })).text()).includes(
          "<progress",
        )
      )
        return;
    throw new Error("The fleet is not calculated");
  });
  afterAll(() => sql.close());

  async function page(path: string): Promise<string> {
    const answer = await app.request(path);
    expect(answer.status, path).toBe(200);
    return answer.text();
  }

  interface Assessed {
    options: { id: string; offered: boolean; not_offered_because: string | null; expected_cost: number }[];
    verdict: { option: string };
  }
  const assessed = async (name: keyof typeof ids) =>
    (await (await app.request(`/api/vehicles/${ids[name]}/assessment`)).json()) as Assessed;
  const option = ({ options }: Assessed, id: string) => options.find((one) => one.id === id)!;

  test("dye is out for the one and offered for the other; a top-off costs a shop's price", async () => {
    const [hybrid, plain] = [await assessed("hybrid"), await assessed("plain")];
    expect(option(plain, "dye-test").offered).toBe(true);
    expect(option(hybrid, "dye-test")).toMatchObject({ offered: false, not_offered_because: "rule" });
    expect(option(hybrid, "top-off").expected_cost).toBeGreaterThan(option(plain, "top-off").expected_cost);
  });

  test("the vehicle's page has a shop do it, and says that dye is out with high voltage", async () => {
    const hybrid = textOf(await page(`/vehicles/${ids.hybrid}`));
    expect(hybrid).toMatch(/Have a shop (?:top it off|find the leak|repair it)|Repair it/);
    expect(hybrid).toMatch(/not with high voltage/i);
    const plain = textOf(await page(`/vehicles/${ids.plain}`));
    expect(plain).not.toMatch(/Have a shop top it off|not with high voltage/i);
  });

  /** What stands between the name of one vehicle and that of the other, or the end. */
  const partOf = (text: string, name: keyof typeof ids) => {
    const from = text.lastIndexOf(`The ${name} one`);
    const other = text.indexOf(`The ${name === "hybrid" ? "plain" : "hybrid"} one`, from);
    return text.slice(from, other === -1 ? undefined : other);
  };

  test("list and fleet table say what its own page says", async () => {
    const verdicts = {
      hybrid: (await assessed("hybrid")).verdict.option,
      plain: (await assessed("plain")).verdict.option,
    };
    expect(verdicts).toEqual({ hybrid: "electronic-test", plain: "top-off" });
    for (const path of ["/vehicles", "/fleet"]) {
      const text = textOf(await page(path));
      expect(partOf(text, "hybrid"), path).toContain("Electronic leak test first");
      expect(partOf(text, "plain"), path).toContain("Top it off");
    }
    const { data } = Papa.parse<Record<string, string>>(await page("/fleet.csv"), {
      header: true,
      skipEmptyLines: true,
    });
    expect(data.map(({ vehicle, answer }) => [vehicle, answer])).toEqual([
      ["The hybrid one", "electronic-test"],
      ["The plain one", "top-off"],
    ]);
  });

  test("the budget never has dye put into it, whatever there is to spend and whatever it is to save", async () => {
    // The money is for tests and repairs alone; less than this does not reach for the test.
    for (const asked of ["budget=1500", "budget=5000", "budget=5000&aim=release"]) {
      const budget = textOf(await page(`/fleet/budget?${asked}`));
      expect(budget, asked).toContain("The hybrid one Electronic leak test first");
      expect(budget, asked).not.toContain("Dye test");
      expect(budget, asked).not.toContain("all 1");
    }
  });

  test("dye in the compressor's own oil may go in, by a shop", async () => {
    const answer = (await (await app.request(`/api/vehicles/${oiled}/assessment`)).json()) as Assessed;
    expect(option(answer, "dye-test").offered).toBe(true);
    expect(option(answer, "top-off")).toEqual(option(await assessed("hybrid"), "top-off"));
    expect(textOf(await page(`/vehicles/${oiled}`))).not.toMatch(/not with high voltage/i);
  });

  const headers = { Origin: "http://localhost" };
  const post = (path: string, body: URLSearchParams) => app.request(path, { method: "POST", headers, body });

  async function begunQuote(id: string): Promise<string> {
    const begun = await post(
      `/vehicles/${id}/quotes`,
      new URLSearchParams({ customer: "", keep_years: "5", book: "retail" }),
    );
    expect(begun.status).toBe(303);
    return begun.headers.get("Location")!;
  }

  test("a quote's paper is sure of the high voltage, and asks the model what its vehicle's page asks", async () => {
    const paper = async (id: string) => textOf(await page(`${await begunQuote(id)}/preview`));
    const [hybrid, plain] = [await paper(ids.hybrid), await paper(ids.plain)];
    expect(hybrid).toContain("High voltage drives this compressor and can kill");
    expect(hybrid).not.toMatch(/may run on high voltage|with dye/i);
    expect(plain).toContain("may run on high voltage");
  });

  test("a dye option added by hand cannot be sent for it, unless there is dye in the compressor's own oil", async () => {
    const sent = async (id: string) => {
      const path = await begunQuote(id);
      const form = formIn(await page(path), "builder");
      form.set("new_work", "dye");
      expect((await post(`${path}/options`, form)).status).toBe(303);
      return textOf(await (await post(`${path}/send`, formIn(await page(path), "builder"))).text());
    };
    const refusal = "high voltage drives this compressor, and no dye may go in";
    expect(await sent(ids.hybrid)).toContain(refusal);
    expect(await sent(oiled)).not.toContain(refusal);
    expect(await sent(ids.plain)).not.toContain(refusal);
  });
});
