import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { createApp } from "../../src/app.ts";
import { migrate } from "../../src/store/migrations.ts";
import { NodeSql } from "../../src/store/node-sqlite.ts";
import { ensureLocalWorkspace } from "../../src/store/workspaces.ts";
import { testDeps } from "../support/deps.ts";
import { fleetCsv } from "../support/fleet-csv.ts";

const AS_OF = "2026-05-01";

let sql: NodeSql;
let app: ReturnType<typeof createApp>;

beforeEach(async () => {
  sql = new NodeSql(":memory:");
  await migrate(sql);
  const deps = testDeps({ sql: () => sql, random: (bytes) => crypto.getRandomValues(new Uint8Array(bytes)) });
  await ensureLocalWorkspace({ sql, now: deps.now, settings: { plan: { service: "shop" } } });
  app = createApp(deps);
});
afterEach(() => sql.close());

const ORIGIN = { Origin: "http://localhost" };

async function post(path: string, fields: Record<string, string> = {}): Promise<Response> {
  const headers = { ...ORIGIN, "Content-Type": "application/x-www-form-urlencoded" };
  return app.request(path, { method: "POST", headers, body: new URLSearchParams(fields).toString() });
}

async function upload(content: string | Uint8Array<ArrayBuffer>, events?: string): Promise<Response> {
  const form = new FormData();
  form.set("file", new File([content], "fleet.csv", { type: "text/csv" }));
  if (events !== undefined) form.set("events", new File([events], "events.csv", { type: "text/csv" }));
  return app.request("/fleet/import", { method: "POST", headers: ORIGIN, body: form });
}

async function textOf(path: string, headers: Record<string, string> = {}): Promise<string> {
  const answer = await app.request(path, { headers });
  expect(answer.status).toBe(200);
  return answer.text();
}

const headingOf = (page: string) => /<h1[^>]*>(.*?)<\/h1>/s.exec(page)?.[1];

/** Imports a file that needs no answers, and gives the address of its report. */
async function imported(csv: string): Promise<string> {
  const sent = await upload(csv);
  expect(sent.status).toBe(303);
  const report = sent.headers.get("Location")!;
  expect((await post(`${report}/take`)).status).toBe(303);
  return report;
}

/** Asks about progress until the reckoning is done. Without work in the background each question does a slice. */
async function reckoned(): Promise<void> {
  for (let i = 0; i < 100; i++) {
    const page = await textOf("/fleet/progress", { "HX-Request": "true" });
    if (!page.includes("<progress")) return;
  }
  throw new Error("The reckoning does not end");
}

describe("a file", () => {
  test("is read, reported and put in, and sent again adds nothing", async () => {
    const csv = fleetCsv({ vehicles: 6, entries: 4, seed: 2, as_of: AS_OF });
    const sent = await upload(csv);
    const address = sent.headers.get("Location")!;
    expect(headingOf(await textOf(address))).toBe("24 rows can be imported");
    expect(await textOf("/fleet")).toContain("No vehicles yet");
    await post(`${address}/take`);
    expect(headingOf(await textOf(address))).toBe("6 vehicles and 24 entries added");

    const again = (await upload(csv)).headers.get("Location")!;
    const page = await textOf(again);
    expect(headingOf(page)).toBe("Everything in this file is already here");
    expect(page).not.toContain("/take");
  });

  test("with refused rows gives the choice, and their file to mend", async () => {
    const csv =
      "vehicle,refrigerant,nameplate g,date,cooling,note\nVan 1,R-134a,850,2026-04-01,weak,=cmd\nVan 1,R-134a,850,2027-01-01,weak,=SUM(A1)\n";
    const address = (await upload(csv)).headers.get("Location")!;
    const page = await textOf(address);
    expect(headingOf(page)).toBe("1 row can be imported, 1 cannot");
    expect(page).toContain("That date is in the future");
    const refused = await textOf(`${address}/refused.csv?file=0`);
    expect(refused).toContain("Van 1,R-134a,850,2027-01-01,weak,'=SUM(A1),3,Date: That date is in the future.");
    expect((await post(`${address}/back`)).status).toBe(303);
    expect((await app.request(address)).status).toBe(404);
    expect(await textOf("/fleet")).toContain("No vehicles yet");
  });

  test("that leaves something open is asked about first", async () => {
    const csv = "Fahrzeug,refrigerant,nameplate,date,added oz\nVan 1,R-134a,30,3/4/2026,12\n";
    const address = (await upload(csv)).headers.get("Location")!;
    expect(headingOf(await textOf(address))).toBe("What do the columns mean?");
    const unanswered = await post(`${address}/answers`, { "f0-column-0": "vehicle" });
    expect(unanswered.status).toBe(422);
    const page = await unanswered.text();
    expect(page).toContain("Choose the unit of Nameplate charge");
    expect(page).toContain("Say whether the day or the month comes first");
    expect((await post(`${address}/take`)).status).toBe(400);

    const answers = { "f0-column-0": "vehicle", "f0-unit-2": "oz", "f0-date": "month-first" };
    expect((await post(`${address}/answers`, answers)).status).toBe(303);
    expect(headingOf(await textOf(address))).toBe("1 row can be imported");
    await post(`${address}/take`);
    await reckoned();
    const [vehicle] = /\/vehicles\/[0-9a-z]{20}/.exec(await textOf("/fleet"))!;
    expect(await textOf(vehicle)).toMatch(/1\slb\s14\soz/); // 30 oz
  });

  test("may be two", async () => {
    const sent = await upload(
      "vehicle,refrigerant,nameplate g\nVan 1,R-134a,850\n",
      "vehicle,date,cooling\nVan 1,2026-04-01,weak\n",
    );
    expect(headingOf(await textOf(sent.headers.get("Location")!))).toBe("2 rows can be imported");
  });

  test.each([
    ["no file at all", new Uint8Array(), "Choose a file to import|The file is empty"],
    ["a broken workbook", Uint8Array.of(0x50, 0x4b, 3, 4), "This workbook cannot be opened"],
    ["a header alone", new TextEncoder().encode("vehicle,date\n"), "nothing below it"],
  ])("that is %s is refused with what to do", async (_name, content, message) => {
    const sent = await upload(content);
    expect(sent.status).toBe(422);
    expect(await sent.text()).toMatch(new RegExp(message));
  });

  test("of a viewer is refused", async () => {
    const other = createApp(testDeps({ sql: () => sql, access_mode: "links" }));
    expect((await other.request("/fleet/import")).status).toBe(401);
  });
});

describe("the table", () => {
  beforeEach(async () => {
    await imported(fleetCsv({ vehicles: 60, entries: 4, seed: 4, as_of: AS_OF }));
    await reckoned();
  });

  test("says first what the fleet's answers come to", async () => {
    const page = await textOf("/fleet");
    expect(headingOf(page)).toMatch(/vehicles? (is|are) worth repairing|No repair pays off now/);
    expect(page).toContain("Page 1 of 2");
    expect(page).toContain("All 60");
    expect(page).toContain("How groups help");
  });

  test("keeps its state in the address", async () => {
    const page = await textOf("/fleet?group=Shuttle+buses&sort=leak_g_per_year&order=descending");
    expect(page).toContain('aria-sort="descending"');
    expect(page.match(/name="v"/g)).toHaveLength(10);
    for (const field of ["group", "sort", "order"]) expect(page).toContain(`<input type="hidden" name="${field}"`);
    // The filters change all that is said of the vehicles, the pages of the table the table alone.
    const filtered = await textOf("/fleet?q=buses+0003", { "HX-Request": "true" });
    expect(filtered).not.toContain("<html");
    expect(filtered).toContain(">Of 1 vehicle shown: ");
    expect(filtered).toContain("Shuttle buses 0003");
    const table = { "HX-Request": "true", "HX-Target": "div#fleet-table" };
    expect(await textOf("/fleet?q=buses+0003", table)).not.toContain("<h1");
    expect(await textOf("/fleet?q=nothing+like+this")).toContain("Nothing fits");
    expect(await textOf("/fleet?page=99&sort=nonsense&answer=x")).toContain("Nothing fits");
  });

  test("begins with those for which acting changes anything, by what it saves", async () => {
    const said = [
      ...(await textOf("/fleet"))
        .split("<tfoot")[0]!
        .matchAll(/data-heading="Saves">(?:<b class="money">([^<]*)<\/b>)?</g),
    ];
    const saved = said.map(([, amount]) =>
      amount === undefined ? null : Number(amount.replace(/[^\d−]/g, "").replace("−", "-")),
    );
    expect(saved.length).toBeGreaterThan(20);
    const [some, none] = [saved.filter((one) => one !== null), saved.indexOf(null)];
    expect(some.length).toBeGreaterThan(2);
    expect(some).toEqual(some.toSorted((a, b) => b - a));
    if (none >= 0) expect(saved.slice(none).every((one) => one === null)).toBe(true);
  });

  test("keeps what is ticked over its pages, and means all of a filter by one press", async () => {
    const ids = [...(await textOf("/fleet?sort=label")).matchAll(/name="v" value="(\w+)"/g)].map(([, id]) => id!);
    const second = await textOf(`/fleet?sort=label&page=2&v=${ids[0]}&v=${ids[3]}`);
    expect(second).toContain("2 selected");
    expect(second).toContain(`<input type="hidden" name="v" value="${ids[0]}"`);
    const some = await textOf(`/fleet.csv?sort=label&v=${ids[0]}&v=${ids[3]}`);
    expect(some.trim().split("\r\n")).toHaveLength(3);
    expect(await textOf("/fleet?group=Tractors&all=yes")).toContain("10 selected");
  });

  test("shows those that a bar of the pictures counts", async () => {
    const page = await textOf("/fleet");
    const bars = /<figure[^>]*id="low-by-month".*?<\/figure>/s.exec(page)?.[0] ?? "";
    const rows = [...bars.matchAll(/<a href="([^"]+)">.*?<data value="(\d+)"/gs)];
    expect(rows).toHaveLength(14);
    expect(rows.reduce((sum, [, , count]) => sum + Number(count), 0)).toBe(60);
    for (const [, href, count] of rows) {
      const shown = await textOf(href!.replaceAll("&amp;", "&"));
      const found = Number(/<p class="fleet-count">(\d+) vehicle/.exec(shown)?.[1] ?? 0);
      expect(found, href).toBe(Number(count));
    }
  });

  test("is exported with the same filter", async () => {
    const csv = await textOf("/fleet.csv?group=Tractors");
    expect(csv.startsWith("vehicle,group,depot,")).toBe(true);
    expect(csv.trim().split("\r\n")).toHaveLength(11);
  });

  test("compares up to six", async () => {
    const ids = [...(await textOf("/fleet")).matchAll(/name="v" value="(\w+)"/g)].map(([, id]) => id);
    const page = await textOf(
      `/fleet/compare?${ids
        .slice(0, 8)
        .map((id) => `v=${id}`)
        .join("&")}`,
    );
    expect(page.match(/<th scope="col"><a/g)).toHaveLength(6);
    expect(page).toContain("Six fit beside each other");
    expect(await textOf("/fleet/compare")).toContain("No vehicle to compare");
  });

  test("is told on a vehicle's page, which is answered under it like the table, and kept up with", async () => {
    const [, id] = /name="v" value="(\w+)"/.exec(await textOf("/fleet"))!;
    const group = /<section[^>]*id="group".*?<\/section>/s;
    const [told] = group.exec(await textOf(`/vehicles/${id}`))!;
    expect(told).toMatch(/uses what 10 vehicles in this group show\. \S+% of it comes/);
    expect(told).toMatch(/On .*1 May 2026.* the table said: <strong>/);
    expect(told).toMatch(/, as this page does\./);
    // A page that is kept tells of a new reckoning, too.
    sql.script(`UPDATE fleet_answers SET as_of = '2026-04-30' WHERE vehicle_id = '${id}'`);
    sql.script(
      `UPDATE fleet_details SET answer = json_set(answer, '$.verdict.option', 'check-first') WHERE vehicle_id = '${id}'`,
    );
    const [later] = group.exec(await textOf(`/vehicles/${id}`))!;
    expect(later).toMatch(
      /On .*30 April 2026.* the table said: <strong>Add nothing: it is not low<\/strong>\. It is older than this page\./,
    );
  });

  test("is not told where a repair took the vehicle out of its group", async () => {
    const [, id] = /name="v" value="(\w+)"/.exec(await textOf("/fleet"))!;
    const repaired = await app.request(`/api/vehicles/${id}/charge-log`, {
      method: "POST",
      headers: { "Content-Type": "application/json" },
      body: JSON.stringify({ date: "2026-04-20", repair: "hose" }),
    });
    expect(repaired.status).toBe(201);
    await post("/fleet/reckoning");
    await reckoned();
    expect(await textOf(`/vehicles/${id}`)).not.toContain('id="group"');
  });

  test("is brought up to date after a change, and only then", async () => {
    expect(await textOf("/fleet")).not.toContain("/fleet/reckoning");
    const [, id] = /name="v" value="(\w+)"/.exec(await textOf("/fleet"))!;
    sql.script(`UPDATE vehicles SET version = version + 1, nameplate_g = 1234 WHERE id = '${id}'`);
    expect(await textOf("/fleet")).toContain("1 vehicle needs updating");
    expect((await post("/fleet/reckoning")).headers.get("Location")).toBe("/fleet");
    await reckoned();
    expect(await textOf("/fleet")).not.toContain("/fleet/reckoning");
  });

  test("can be stopped while it is reckoned", async () => {
    sql.script("UPDATE vehicles SET version = version + 1, nameplate_g = 1000");
    await post("/fleet/reckoning");
    expect(await textOf("/fleet")).toContain("/fleet/reckoning/stop");
    await post("/fleet/reckoning/stop");
    expect(await textOf("/fleet")).toContain("Stopped.");
  });
});

describe("the budget", () => {
  beforeEach(async () => {
    await imported(fleetCsv({ vehicles: 40, entries: 6, seed: 5, as_of: AS_OF }));
    await reckoned();
  });

  test("plans, proves and exports", async () => {
    const page = await textOf("/fleet/budget?budget=2500");
    expect(headingOf(page)).toMatch(/^\$2,500 for repairs (saves|costs) /);
    expect(page).toMatch(/No better plan exists|No plan is better by more than/);
    expect(page).toContain("Routine top-offs come on top");
    expect(page).toMatch(/Next: .+, (repairing it|a dye test first|an electronic leak test first), for .*more\./);
    expect(page).toContain("Work orders");
    const rows = csvRows(await textOf("/fleet/budget.csv?budget=2500&aim=cost"));
    expect(rows[0]!.join()).toContain("vehicle,group,depot,refrigerant,nameplate_g,do,month,low_by,money_this_year");
    // All that is planned for this year stays within the money for repairs.
    const spent = rows.slice(1).reduce((sum, row) => sum + Number(row[8]), 0);
    expect(rows.length).toBeGreaterThan(1);
    expect(spent).toBeLessThanOrEqual(2500);
    expect(headingOf(await textOf("/fleet/budget?budget=2500&aim=co2e"))).toContain("avoids");
  });

  test("with next to nothing still plans: routine top-offs are not part of it", async () => {
    const page = await textOf("/fleet/budget?budget=1");
    expect(page).toContain("Routine top-offs come on top");
  });

  test("with time for one job a month gives each month one, the earliest low date first", async () => {
    const rows = csvRows(await textOf("/fleet/budget.csv?budget=9000&aim=co2e&shop=1&per=jobs")).slice(1);
    expect(rows.length).toBeGreaterThan(3);
    // May to December: eight months.
    expect(rows.length).toBeLessThanOrEqual(8);
    const by_month = rows
      .map((row) => ({ month: row[6]!, low: row[7] || "9999" }))
      .sort((a, b) => (a.month < b.month ? -1 : 1));
    expect(new Set(by_month.map(({ month }) => month)).size).toBe(rows.length);
    expect(by_month.map(({ low }) => low)).toEqual(by_month.map(({ low }) => low).toSorted());
  });

  test("plans a depot with money of its own by itself", async () => {
    const rows = csvRows(await textOf("/fleet/budget.csv?budget=9000&aim=co2e&money.Harbor=1000")).slice(1);
    const harbor = rows.filter((row) => row[2] === "Harbor").reduce((sum, row) => sum + Number(row[8]), 0);
    expect(harbor).toBeGreaterThan(0);
    expect(harbor).toBeLessThanOrEqual(1000);
    const wrong = await app.request("/fleet/budget?budget=100&money.Harbor=1000");
    expect(wrong.status).toBe(422);
    expect(await wrong.text()).toContain("own money comes to more than the money for the whole year");
  });

  test("is asked for, and what is no amount is told", async () => {
    expect(headingOf(await textOf("/fleet/budget"))).toContain("repair money go?");
    const wrong = await app.request("/fleet/budget?budget=much");
    expect(wrong.status).toBe(422);
    expect(await wrong.text()).toContain("Enter an amount of money");
  });

  test("keeps to what was settled beforehand, for any vehicle", async () => {
    const found = await textOf("/fleet/budget?budget=30000&find=small+vans+0001");
    const [, id] = /name="vehicle" value="(\w+)"/.exec(found.slice(found.indexOf('id="settle"')))!;
    const back = "/fleet/budget?budget=30000";
    const settled = await post("/fleet/locks", { vehicle: id!, repair: "always", back });
    expect(settled.headers.get("Location")).toBe(back);
    expect(await textOf("/fleet/budget.csv?budget=30000")).toMatch(/^Small vans 0001,.*,repair,.*,must\r?$/m);
    await post("/fleet/locks", { vehicle: id!, repair: "not-this-year", year: "2026", back });
    expect(await textOf(back)).toContain("not in 2026");
    expect(await textOf("/fleet/budget.csv?budget=30000")).not.toContain("Small vans 0001");
    await post("/fleet/locks", { vehicle: id!, repair: "never", back });
    expect(await textOf(back)).toContain(": never repair");
    const elsewhere = await post("/fleet/locks", { vehicle: id!, repair: "open", back: "https://elsewhere.example/" });
    expect(elsewhere.headers.get("Location")).toBe("/fleet/budget");
    expect(await textOf(back)).not.toContain("settled beforehand");
  });
});

/** The cells of a plain CSV, without quoted commas. */
function csvRows(csv: string): string[][] {
  return csv
    .trim()
    .split("\r\n")
    .map((line) => line.split(","));
}

describe("the audit", () => {
  test("adds up a year by group and vehicle, with the rules for large charges", async () => {
    await imported(fleetCsv({ vehicles: 12, entries: 6, seed: 6, as_of: AS_OF }));
    await reckoned();
    const page = await textOf("/fleet/audit?year=2025");
    expect(headingOf(page)).toMatch(/^2025: about .*kg released, .* of CO₂e$/);
    for (const part of ["By refrigerant", "By depot", "By group", "By vehicle", "likely range", "Model version"])
      expect(page).toContain(part);
    expect(page).toContain("IPCC, sixth report (100 years)");
    expect(page).toContain("40 CFR 84.106");
    const csv = await textOf("/fleet/audit.csv?year=2025");
    expect(csv).toContain("annualizing_percent_per_year,rolling_percent_per_year,over_limit_on");
    expect(await textOf("/fleet/audit?year=1999")).toContain("Nothing is on record for 1999");
  });

  test("without a fleet says what to do", async () => {
    expect(await textOf("/fleet/audit")).toContain("Calculate the fleet first");
  });
});
