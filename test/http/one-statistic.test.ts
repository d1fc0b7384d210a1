import Papa from "papaparse";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { createApp } from "../../src/app.ts";
import { migrate } from "../../src/store/migrations.ts";
import { NodeSql } from "../../src/store/node-sqlite.ts";
import { ensureLocalWorkspace } from "../../src/store/workspaces.ts";
import { saidShare } from "../../views/fleet/shown.ts";
import { massFigure, saidMass, saidMassSpan, saidMoney, saidPercent } from "../../views/words/numbers.ts";
import { saidMonth } from "../../views/words/times.ts";
import { testDeps } from "../support/deps.ts";

/**
 * Every page says the same of a vehicle: its answer, its leak and its likely range, its charge, when it is low again.
 */

const TODAY = "2026-05-01";
let submits = 0;
const ORIGIN = { Origin: "http://localhost" };

/** Beside the sample vehicles: full, low, fast, empty, without a word, and without an entry that says anything. */
const MORE = [
  "vehicle,refrigerant,nameplate_g,date,cooling,added_g,finish",
  "Full van,R-134a,850,2026-03-01,,,weighed",
  "Full van,R-134a,850,2026-04-20,ok,,",
  "Low van,R-134a,850,2024-06-01,weak,340,low-side",
  "Low van,R-134a,850,2026-04-20,weak,,",
  "Fast van,R-134a,600,2025-10-01,weak,300,gauges",
  "Fast van,R-134a,600,2026-01-20,weak,300,gauges",
  "Fast van,R-134a,600,2026-04-25,weak,,",
  "Empty van,R-134a,600,2025-10-01,weak,300,gauges",
  "Empty van,R-134a,600,2026-04-25,empty,,",
  "Quiet van,R-1234yf,560,2022-01-10,,,weighed",
].join("\n");

let sql: NodeSql;
let app: ReturnType<typeof createApp>;

beforeAll(async () => {
  sql = new NodeSql(":memory:");
  await migrate(sql);
  const deps = testDeps({ sql: () => sql, random: (bytes) => crypto.getRandomValues(new Uint8Array(bytes)) });
  await ensureLocalWorkspace({ sql, now: deps.now });
  app = createApp(deps);
  await post("/vehicles/examples");
  const form = new FormData();
  form.set("file", new File([MORE], "more.csv", { type: "text/csv" }));
  const sent = await app.request("/fleet/import", { method: "POST", headers: ORIGIN, body: form });
  expect((await post(`${sent.headers.get("Location")}/take`)).status).toBe(303);
  for (let i = 0; i < 200; i++) {
    if (!(await page("/fleet/progress", { "HX-Request": "true" })).includes("<progress")) return;
  }
  throw new Error("The fleet is not calculated");
});
afterAll(() => sql.close());

async function post(path: string, fields = ""): Promise<Response> {
  const headers = { ...ORIGIN, "Content-Type": "application/x-www-form-urlencoded" };
  return app.request(path, { method: "POST", headers, body: `submit_key=${submits++}&${fields}` });
}

async function page(path: string, headers: Record<string, string> = {}): Promise<string> {
  const answer = await app.request(path, { headers });
  expect(answer.status, path).toBe(200);
  return answer.text();
}

function textOf(markup: string): string {
  return markup
    .replace(/<[^>]+>/g, " ")
    .replaceAll("&#39;", "'")
    .replace(/[\s\u00a0]+/g, " ")
    .trim();
}

/** The rows of a table of vehicles by the address of the vehicle: the cells by their heading, small type apart. */
function rowsOf(markup: string): Map<string, Map<string, { said: string; small: string }>> {
  const rows = [...markup.matchAll(/<tr[^>]*>(.*?)<\/tr>/gs)].flatMap(([, row = ""]) => {
    const address = /href="(\/vehicles\/[^"/?]+)"/.exec(row)?.[1];
    if (address === undefined) return [];
    const cells = [...row.matchAll(/<td[^>]*data-heading="([^"]+)"[^>]*>(.*?)<\/td>/gs)].map(
      ([, heading = "", cell = ""]): [string, { said: string; small: string }] => [
        heading,
        {
          said: textOf(cell.replace(/<small>.*?<\/small>/gs, "")),
          small: textOf(/<small>(.*?)<\/small>/s.exec(cell)?.[1] ?? ""),
        },
      ],
    );
    return [[address, new Map(cells)] as const];
  });
  return new Map(rows);
}

describe("one statistic for one thing", () => {
  test("list, fleet, vehicle and export say the same of every vehicle", async () => {
    const list = rowsOf(await page("/vehicles"));
    const fleet = rowsOf(await page("/fleet"));
    const csv = Papa.parse<string[]>((await page("/fleet.csv")).trim()).data;
    const column = (row: readonly string[] | undefined, name: string) => row?.[csv[0]?.indexOf(name) ?? -1] ?? "";
    expect(list.size).toBeGreaterThanOrEqual(10);

    const answers = new Set<string>();
    let alone = 0;
    for (const [address, listed] of list) {
      const markup = await page(address);
      const label = textOf(/<h1[^>]*>(.*?)<\/h1>/s.exec(markup)?.[1] ?? "");
      const text = textOf(markup);
      // Where a group had a say in the fleet's figures, the vehicle's page says so, and says what the fleet answers.
      const grouped = markup.includes('id="group"');
      const in_fleet = grouped ? undefined : fleet.get(address);
      if (!grouped) alone++;
      const exported = csv.find((row) => column(row, "vehicle") === label);
      const cells = (name: string, there = name) =>
        [listed.get(name), in_fleet?.get(there)].flatMap((cell) => cell?.said ?? []);
      const both = (words: string | undefined) => cells("What to do").map(() => words);

      const answer = textOf(/data-short-answer="([^"]*)"/.exec(markup)?.[1] ?? "");
      answers.add(answer);
      expect(cells("What to do"), label).toEqual(both(answer));

      const [, leak, range] =
        /It loses about ([\d.,]+ (?:oz|lb|g) a year) ?\( ?likely range (.*?) ?\)/.exec(text) ?? [];
      expect(leak, label).toMatch(/ a year$/);
      // Under a heading that says "a year", the cells do not.
      const yearly = (words: string | undefined) => words?.replace(/ a year$/, "");
      expect(listed.get("Leak a year")?.said, label).toBe(yearly(leak));
      if (in_fleet !== undefined) {
        // The fleet's columns have one unit each: its figures are those of its file, in ounces and percent.
        const leak_g = Number(column(exported, "leak_g_per_year"));
        const nameplate_g = Number(column(exported, "nameplate_g"));
        expect(in_fleet.get("Leak a year")?.said, label).toBe(massFigure(leak_g, "us"));
        expect(in_fleet.get("Of charge")?.said, label).toBe(saidShare(leak_g / nameplate_g));
        const likely = ["p05", "p95"].map((p) => Number(column(exported, `leak_g_per_year_${p}`)));
        expect(`${textOf(saidMassSpan(likely[0]!, likely[1]!, "us"))} a year`, label).toBe(range);
        expect(textOf(`${saidMass(leak_g, "us")} a year`), label).toBe(leak);
        const charge_g = Number(column(exported, "charge_now_g"));
        expect(in_fleet.get("Charge now")?.said, label).toBe(saidPercent(Math.min(1, charge_g / nameplate_g)));
        const charge = textOf(saidMass(charge_g, "us"));
        if (/About .* of .* (is in it|is left)/.test(text)) expect(text, label).toContain(`About ${charge} of`);
        const low = listed.get("Low again");
        const in_table = in_fleet.get("Low again")?.said ?? "";
        // The table has three letters of a month.
        const short = low?.said.replace(/^([A-Z][a-z]{2})[a-z]* (?=\d{4}$)/, "$1 ");
        expect(in_table.charAt(0).toUpperCase() + in_table.slice(1), label).toBe(short);
        expect(column(exported, "low_now"), label).toBe(low?.said === "Low now" ? "yes" : "no");
        const [from, at, to] = ["p05", "p50", "p95"].map((p) => column(exported, `low_again_${p}`));
        if (low?.said !== "Low now" && at) {
          expect(low?.said, label).toBe(saidMonth(at));
          // Over more than five years a range is said in years.
          const far = to && Number(to.slice(0, 4)) - Number((from! <= TODAY ? TODAY : from!).slice(0, 4)) > 5;
          const end = (date: string) => (far ? date.slice(0, 4) : saidMonth(date));
          expect(low?.small, label).toBe(
            `${from! <= TODAY ? "now" : end(from!)} to ${to ? end(to) : "beyond 20 years"}`,
          );
        }
      }
      const in_list = listed.get("Low again");
      if (in_list?.said === "Low now") expect(text, label).not.toContain("enough until");
      else if (in_list?.said !== "Not within 20 years") {
        expect(text, label).toContain(`Around ${in_list?.said} (likely range ${in_list?.small}).`);
      }
    }
    expect(alone).toBeGreaterThanOrEqual(8);
    // What was compared is worth comparing.
    expect([...answers].length, [...answers].join("; ")).toBeGreaterThanOrEqual(4);
  });

  test("costs: the vehicle's page, its chart, the API, the fleet's file and vehicles side by side have one figure", async () => {
    const csv = Papa.parse<Record<string, string>>(await page("/fleet.csv"), { header: true, skipEmptyLines: true });
    let compared = 0;
    for (const address of rowsOf(await page("/vehicles")).keys()) {
      const markup = await page(address);
      const label = textOf(/<h1[^>]*>(.*?)<\/h1>/s.exec(markup)?.[1] ?? "");
      const { options, verdict } = JSON.parse(await page(`/api${address}/assessment`)) as Answered;
      const table = /<table class="options">.*?<\/table>/s.exec(markup)?.[0] ?? "";
      const shown = [
        ...table.matchAll(/<tr[^>]* data-option="([^"]+)".*?<data class="money" value="([^"]+)">(.*?)<\/data>/gs),
      ];
      expect(new Map(shown.map(([, id, cost]) => [id, Number(cost)])), label).toEqual(
        new Map(options.map(({ id, expected_cost }) => [id, expected_cost])),
      );
      for (const [, , cost, said] of shown) expect(textOf(said!), label).toContain(saidMoney(Number(cost)));
      if (markup.includes('id="group"')) continue;

      const row = csv.data.find(({ vehicle }) => vehicle === label)!;
      const years = Number(/Over ([\d½]+) years?/.exec(textOf(markup))?.[1] ?? 5);
      const answer = options.find(({ id }) => id === verdict.option);
      if (answer !== undefined)
        expect(Number(row.cost_per_year_answer) * years, label).toBeCloseTo(answer.expected_cost, 6);
      // Topping off for ever is the fleet's own figure, in its file and beside other vehicles.
      const beside = textOf(await page(`/fleet/compare?v=${address.replace("/vehicles/", "")}`));
      expect(beside, label).toContain(`topping off ${saidMoney(Number(row.cost_per_year_top_off))} `);
      compared++;
    }
    expect(compared).toBeGreaterThanOrEqual(8);
  }, 120_000);

  test("side by side, the quote and the API say what the vehicle's page says", async () => {
    const headlines = new Set<string>();
    const addresses = [...rowsOf(await page("/vehicles")).keys()];
    let loses = 0;
    for (const address of addresses) {
      const id = address.replace("/vehicles/", "");
      const markup = await page(address);
      const text = textOf(markup);
      const label = textOf(/<h1[^>]*>(.*?)<\/h1>/s.exec(markup)?.[1] ?? "");
      const answer = textOf(/data-short-answer="([^"]*)"/.exec(markup)?.[1] ?? "");
      const leak = /It loses about ([\d.,]+ (?:oz|lb) a year) ?\( ?likely range (.*?) ?\)/.exec(text);
      const [, best = "", range = ""] = leak ?? [];
      expect(range, label).not.toBe("");

      const api = JSON.parse(await page(`/api${address}/assessment`)) as Answered;
      const { g_per_year } = api.leak;
      expect(`${saidMass(g_per_year.median, "us")} a year`, label).toBe(spaced(best));
      expect(`${saidMassSpan(g_per_year.p05, g_per_year.p95, "us")} a year`, label).toBe(spaced(range));

      if (!markup.includes('id="group"')) {
        const compared = textOf(await page(`/fleet/compare?v=${id}`));
        expect(compared, label).toContain(`What to do ${answer} `);
        expect(compared, label).toContain(`Leak a year ${best} ${range} `);
      }

      const begun = await post(`${address}/quotes`, "customer=&keep_years=5&book=retail");
      const quote = textOf(await page(`${begun.headers.get("Location")}/preview`));
      const headline = textOf(
        /<h1[^>]*>(.*?)<\/h1>/s.exec(await page(`${begun.headers.get("Location")}/preview`))?.[1] ?? "",
      );
      headlines.add(headline);
      expect(headline, `${label}: ${answer}`).toMatch(QUOTED[answer] ?? /^never/);
      if (quote.includes("From its log")) {
        loses++;
        expect(quote, label).toContain(`it loses about ${best} (likely range ${range})`);
        const [, holds] = /About (\S+ oz|\S+ lb) of \S+ \S+ (?:is in it|is left)/.exec(text) ?? [];
        if (holds !== undefined) expect(quote, label).toContain(`about ${holds} of`);
      }
    }
    expect(loses).toBeGreaterThanOrEqual(6);
    expect(headlines.size, [...headlines].join("; ")).toBeGreaterThanOrEqual(3);
  }, 120_000);
});

interface Answered {
  leak: { g_per_year: { median: number; p05: number; p95: number } };
  options: { id: string; expected_cost: number }[];
  verdict: { option: string | null };
}

/** With the spaces that a page's text has. */
function spaced(words: string): string {
  return words.replace(/ (?=oz|lb|g\b)/g, "\u00a0");
}

/** What a shop's quote may begin with beside each answer: prices differ, what is needed does not. */
const QUOTED: Readonly<Record<string, RegExp>> = {
  "Leave it for now": /^Nothing needs to be done today$/,
  "Take readings first": /^First find out what is wrong$/,
  "Add nothing: it is not low": /^First find out what is wrong$/,
  "Find the leak first": /^We recommend: Find the leak/,
  "Repair it: it is empty": /^We recommend: (Find the leak|Repair)/,
  "Repair it, don't top it off": /^We recommend: (Find the leak|Repair|Replace)/,
  "Repair it": /^We recommend: /,
  "Top it off": /^We recommend: /,
  "If it cools poorly, top it off": /^(We recommend: |Nothing needs)/,
  "Dye test first": /^We recommend: /,
  "Electronic leak test first": /^We recommend: /,
};
