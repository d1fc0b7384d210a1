import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, expect, test } from "vitest";
import { fleetCsv } from "../support/fleet-csv.ts";
import { DIST } from "../support/paths.ts";
import { startServer } from "../support/server.ts";
import { BuiltServer } from "./at.ts";
import { expectAccessible, expectGoodEverywhere, keepShot, openPage, sharedPage } from "./support.ts";

const at = new BuiltServer();
let folder: string;

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), "fleet-"));
  const today = new Date().toISOString().slice(0, 10);
  writeFileSync(join(folder, "fleet.csv"), fleetCsv({ vehicles: 120, entries: 6, seed: 31, as_of: today }));
  writeFileSync(
    join(folder, "odd.csv"),
    "Fahrzeug;refrigerant;nameplate;date;added oz;note\nVan 1;R134a;30;3/4/2025;12;=cmd\nVan 2;R-22;30;3/4/2025;12;\n",
  );
});
afterAll(async () => {
  rmSync(folder, { recursive: true });
});

async function sendIn(page: Page, file: string): Promise<void> {
  await page.goto(`${at.server.url}/fleet/import`);
  await page.getByLabel("Vehicles, with or without their entries").setInputFiles(join(folder, file));
  await page.getByRole("button", { name: "Read the file" }).click();
}

test("an empty fleet says how to begin", async () => {
  const { page, problems, close } = await openPage(at.browser);
  await page.goto(`${at.server.url}/fleet`);
  await expectAccessible(page);
  await page.getByRole("link", { name: "Import a file" }).click();
  await expectAccessible(page);
  await keepShot(page, "fleet-import");
  expect(problems).toEqual([]);
  await close();
});

test("a file that leaves something open is asked about, reported, and taken back", async () => {
  const { page, problems, close } = await openPage(at.browser);
  await sendIn(page, "odd.csv");
  await page.getByRole("heading", { name: "What do the columns mean?" }).waitFor();
  await expectAccessible(page);
  await page.getByRole("button", { name: "Read the rows" }).click();
  await page.getByRole("heading", { name: "things to continue" }).waitFor();
  await expectAccessible(page);
  await keepShot(page, "fleet-import-questions");
  await page.getByLabel("“Fahrzeug”").selectOption("vehicle");
  await page.getByLabel("Unit of the numbers in “nameplate”").selectOption("oz");
  await page.getByLabel("the day").check();
  await page.getByRole("button", { name: "Read the rows" }).click();
  await page.getByRole("heading", { name: "1 row can be imported, 1 cannot" }).waitFor();
  await expectAccessible(page);
  await keepShot(page, "fleet-import-report");
  await page.getByRole("button", { name: "Cancel the import" }).click();
  await page.getByRole("heading", { name: "Import vehicles and past top-offs" }).waitFor();
  // The first answer to the form is a 422, which the browser notes.
  expect(problems.filter((problem) => !problem.includes("422"))).toEqual([]);
  await close();
});

test("a fleet goes in, is reckoned in sight, sorted, filtered and compared", async () => {
  const { page, problems, close } = await openPage(at.browser);
  await sendIn(page, "fleet.csv");
  await page.getByRole("button", { name: /^Import [\d,]+ rows/ }).click();
  await page.getByRole("heading", { name: "120 vehicles and 720 entries added" }).waitFor();
  await page.getByRole("link", { name: "To the fleet" }).click();
  await page.getByText("All 120").waitFor({ timeout: 60_000 });
  await expectAccessible(page);
  await keepShot(page, "fleet");

  await page.getByRole("link", { name: "Leak, % of charge" }).click();
  await page.waitForURL(/sort=leak_share&order=descending$/);
  await page.getByLabel("Group", { exact: true }).selectOption("Shuttle buses");
  await page.waitForURL(/group=Shuttle\+buses&sort=leak_share&order=descending$/);
  await page.getByText("20 vehicles", { exact: true }).first().waitFor();
  await page.goBack();
  await page.waitForURL(/\?sort=leak_share&order=descending$/);
  await page.getByText("Page 1 of 3").waitFor();
  await page.getByRole("checkbox").nth(1).check();
  await page.getByText("1 selected").waitFor();
  await page.getByRole("button", { name: "Next page" }).click();
  await page.waitForURL(/page=2&v=[0-9a-z]{20}$/);
  // What is ticked is still so on another page, in another order, and back again.
  await page.getByRole("checkbox").nth(2).check();
  await page.getByText("2 selected").waitFor();
  await page.getByRole("link", { name: "Vehicle", exact: true }).click();
  await page.waitForURL(/sort=label/);
  await page.getByText("2 selected").waitFor();
  await page.getByRole("link", { name: "Clear" }).click();
  await page.getByText("0 selected").waitFor();

  await page.goto(`${at.server.url}/fleet?sort=leak_share&order=descending`);
  for (const at of [0, 1, 2]) await page.getByRole("checkbox").nth(at).check();
  await page.getByRole("button", { name: "Compare" }).click();
  await page.locator("canvas").first().waitFor();
  await expectAccessible(page);
  await keepShot(page, "fleet-compare");
  expect(problems).toEqual([]);
  await close();
});

test("the budget is planned, a repair settled beforehand, and the plan follows", async () => {
  const { page, problems, close } = await openPage(at.browser);
  await page.goto(`${at.server.url}/fleet/budget`);
  await page.getByLabel("Money for repairs").fill("6k");
  await page.getByRole("button", { name: "Plan it" }).click();
  await page.getByRole("heading", { name: "Work orders" }).waitFor();
  await expectAccessible(page);
  await keepShot(page, "fleet-budget");
  const row = page.getByRole("row").filter({ hasText: "Repair it" }).first();
  await row.getByRole("combobox").selectOption("never");
  await row.getByRole("button", { name: /^Settle / }).click();
  await page.getByText("1 vehicle settled beforehand").waitFor();
  await expectAccessible(page);
  await page.getByRole("button", { name: /^Save as the plan for / }).click();
  await page.getByRole("heading", { name: /^0 of \d+ repairs done in / }).waitFor();
  await page
    .getByLabel(/^Done…: /)
    .first()
    .click();
  await page.getByLabel("Paid").first().fill("480");
  await expectAccessible(page);
  await page
    .getByRole("button", { name: /^Done: / })
    .first()
    .click();
  await page.getByRole("heading", { name: /^1 of \d+ repairs done in / }).waitFor();
  await expectAccessible(page);
  await keepShot(page, "fleet-plan");
  await page.goto(`${at.server.url}/fleet/audit`);
  await page.getByText("By vehicle").first().click();
  await expectAccessible(page);
  await keepShot(page, "fleet-audit");
  expect(problems).toEqual([]);
  await close();
});

test("many are changed at once and put back, a depot gets its climate, an order another price, an import goes back", async () => {
  const { page, problems, close } = await openPage(at.browser);
  const press = (name: string | RegExp) => page.getByRole("button", { name }).first().click();
  await page.goto(`${at.server.url}/fleet`);
  for (const at of [0, 1]) await page.getByRole("checkbox").nth(at).check();
  await page.getByText("2 selected").waitFor();
  await press("Change");
  await page.getByRole("heading", { name: "2 vehicles selected" }).waitFor();
  await page.getByLabel("Kind of vehicle").selectOption("bus");
  await page.getByLabel("Years kept from now").fill("50");
  await press("Set for all");
  await page.getByRole("link", { name: "Enter years from 0.25 to 20, like 5" }).waitFor();
  await expectGoodEverywhere(page, "fleet-change");
  await page.getByLabel("Years kept from now").fill("7.5");
  await press("Set for all");
  await page.getByRole("heading", { name: "2 vehicles changed" }).waitFor();
  await expectAccessible(page);
  await press("Undo");
  await page.getByRole("heading", { name: "2 vehicles as before" }).waitFor();

  await page.goto(`${at.server.url}/fleet/terms?for=depot:North+yard`);
  await page.getByLabel("Climate", { exact: true }).selectOption("hot-desert");
  await press(/^Save/);
  await expect.poll(() => page.url()).toContain("done=saved");
  expect(await page.getByLabel("Climate", { exact: true }).inputValue()).toBe("hot-desert");
  await expectAccessible(page);

  await page.goto(`${at.server.url}/fleet/plan`);
  await page
    .getByLabel(/^Change…: /)
    .first()
    .click();
  await page.getByLabel("Price").first().fill("1234");
  await expectAccessible(page);
  await press(/^Change: /);
  await expect
    .poll(() => page.getByRole("row").filter({ hasText: "held" }).filter({ hasText: "$1,234" }).count())
    .toBe(1);

  writeFileSync(
    join(folder, "late.csv"),
    "vehicle,refrigerant,nameplate g,model year,odometer (mi)\nLate van,R-134a,850,2019,84200\n",
  );
  await sendIn(page, "late.csv");
  await press(/^Import 1 row/);
  await page.getByRole("link", { name: "To the fleet" }).waitFor();
  // The page reloads itself when the calculation is over, so nothing is pressed on it meanwhile.
  await page.goto(`${at.server.url}/fleet?sort=odometer&order=descending`);
  await expect.poll(() => page.getByRole("row").nth(1).textContent()).toMatch(/Late van.*2019.*84,200/);
  await page.goto(`${at.server.url}/fleet/import`);
  await page.getByRole("link", { name: "late.csv" }).click();
  await press("Take this import back");
  await page.getByText("This import was taken back").waitFor();
  await expectAccessible(page);
  // What was changed is calculated anew before the next test opens pages that would follow it.
  await page.goto(`${at.server.url}/fleet`);
  await page.getByText("All 120").waitFor({ timeout: 60_000 });
  expect(problems.filter((problem) => !problem.includes("422"))).toEqual([]);
  await close();
});

test("past charges are predicted again in sight, and each mark leads to its vehicle", async () => {
  const { page, problems, close } = await openPage(at.browser);
  await page.goto(`${at.server.url}/fleet/predictions`);
  await page.getByRole("heading", { name: /^Of \d+ charges, \d+% came inside the likely range$/ }).waitFor();
  await page.locator("#predicted-came canvas").scrollIntoViewIfNeeded();
  for (const fold of ["What came of them", "By group", "What these figures cannot tell"])
    await page.getByText(fold, { exact: true }).click();
  await expectGoodEverywhere(page, "fleet-predictions");
  await page.getByText("The numbers behind it").click();
  const [name] = await page.locator("#predicted-came tbody a").allTextContents();
  await page.locator("#predicted-came tbody a").first().click();
  await page.getByRole("heading", { name: name! }).first().waitFor();
  await page.locator("#past-predictions").waitFor({ state: "attached" });
  expect(problems).toEqual([]);
  await close();
});

const look = sharedPage(() => at.browser);

test.each(["/fleet", "/fleet/budget?budget=6000&shop=4", "/fleet/plan", "/fleet/audit", "/fleet/import"])(
  "%s: readable by everyone, nothing blocked",
  async (path) => {
    const { page, problems } = await look();
    await page.goto(at.server.url + path);
    await expectGoodEverywhere(page, `fleet${path.replace(/\W+/g, "-")}`);
    expect(problems).toEqual([]);
  },
);

test("everything works without scripts", async () => {
  const { page, close } = await openPage(at.browser, { javaScriptEnabled: false });
  await page.goto(`${at.server.url}/fleet`);
  await page.getByLabel("Group", { exact: true }).selectOption("Tractors");
  await page.getByRole("button", { name: "Show" }).click();
  await expect.poll(() => page.url()).toContain("group=Tractors");
  await page.getByRole("link", { name: "Leak, oz/year" }).click();
  await expect.poll(() => page.url()).toContain("group=Tractors&sort=leak_g_per_year");
  expect(await page.locator("#fleet-rows tr").count()).toBe(22); // head, twenty, totals
  // The numbers of the pictures stand in their tables.
  expect(await page.locator("#leak-by-group tbody tr").count()).toBe(20);
  expect(await page.locator("#low-by-month tbody tr").count()).toBe(14);
  await page.getByRole("checkbox").first().check();
  await page.getByRole("button", { name: "Compare" }).click();
  await expect.poll(() => page.getByRole("columnheader").count()).toBeGreaterThan(0);
  await page.goto(`${at.server.url}/fleet/budget?budget=60000`);
  // The chart's numbers stand in its table.
  expect(await page.locator("#budget-curve tbody tr").count()).toBeGreaterThan(3);
  await close();
});

test("prints the work orders without the controls", async () => {
  const { page, close } = await openPage(at.browser);
  await page.goto(`${at.server.url}/fleet/plan`);
  await page.emulateMedia({ media: "print" });
  expect(await page.getByRole("button", { name: "Plan the rest again" }).isVisible()).toBe(false);
  expect(await page.getByText("☐").first().isVisible()).toBe(true);
  expect(await page.getByText("vent nothing").first().isVisible()).toBe(true);
  if (process.env.SHOTS === "yes") await page.pdf({ path: join(DIST, "shots", "fleet-plan.pdf"), format: "Letter" });
  await close();
});

test("goes on after the server was stopped in the middle", async () => {
  const data_dir = mkdtempSync(join(tmpdir(), "fleet-restart-"));
  const today = new Date().toISOString().slice(0, 10);
  writeFileSync(join(folder, "many.csv"), fleetCsv({ vehicles: 1500, entries: 4, seed: 32, as_of: today }));
  const first = await startServer({ DATA_DIR: data_dir });
  const { page, close } = await openPage(at.browser);
  await page.goto(`${first.url}/fleet/import`);
  await page.getByLabel("Vehicles, with or without their entries").setInputFiles(join(folder, "many.csv"));
  await page.getByRole("button", { name: "Read the file" }).click();
  await page.getByRole("button", { name: /^Import [\d,]+ rows/ }).click();
  await page.getByRole("heading", { name: "1,500 vehicles and" }).waitFor();
  await first.stop("SIGKILL");

  // Nobody asks for a page: it is the server that goes on.
  const second = await startServer({ DATA_DIR: data_dir });
  await page.goto(`${second.url}/fleet`);
  expect(await page.getByText(/of 1,500 vehicles/).count()).toBe(1);
  await page.getByRole("button", { name: "Stop" }).click();
  await page.getByText("Stopped.").waitFor();
  await second.stop();
  rmSync(data_dir, { recursive: true, force: true });
  await close();
});
