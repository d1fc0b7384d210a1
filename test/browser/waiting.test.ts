import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, expect, test } from "vitest";
import { type RunningServer, startServer } from "../support/server.ts";
import { line, unexpected, visited } from "./offline-desk.ts";
import { expectGoodEverywhere, launchChromium, PHONE } from "./support.ts";

let browser: Browser;
let server: RunningServer;
beforeAll(async () => {
  [browser, server] = await Promise.all([launchChromium(), startServer()]);
});
afterAll(async () => {
  await browser.close();
  await server.stop();
});

async function aVehicle(label: string): Promise<string> {
  const made = await fetch(`${server.url}/api/vehicles`, {
    method: "POST",
    headers: { "Content-Type": "application/json" },
    body: JSON.stringify({ label, refrigerant: "R-134a", nameplate_g: 650 }),
  });
  return ((await made.json()) as { id: string }).id;
}

async function logOf(id: string): Promise<{ added_g: number | null; cooling: string | null; note: string | null }[]> {
  const answer = await fetch(`${server.url}/api/vehicles/${id}/charge-log`);
  return ((await answer.json()) as { items: { added_g: number; cooling: string; note: string }[] }).items;
}

const waits = (page: Page) => page.locator("#waiting");

async function writeTopOff(page: Page, amount: string): Promise<void> {
  await page.getByRole("radio", { name: "Topped off" }).check();
  await page.getByRole("radio", { name: "Poorly" }).first().check();
  await page.getByLabel("Refrigerant added").fill(amount);
}

test("a form that was open under the car waits, and is in the log once, on the next page there is", async () => {
  const id = await aVehicle("Open form");
  const { page, problems, close } = await visited(browser, `${server.url}/vehicles/${id}/log/new`);
  await page.context().setOffline(true);
  await writeTopOff(page, "6 oz");
  await page.getByRole("button", { name: "Save" }).click();
  await page.waitForURL(`${server.url}/waiting`);
  await page.getByText("Log entry for the vehicle that was open").waitFor();
  await expectGoodEverywhere(page, "waiting");
  await page.setViewportSize(PHONE);
  await page.goto(server.url);
  await expect.poll(() => waits(page).textContent()).toBe("1 entry waits on this device");
  expect(await logOf(id)).toEqual([]);

  await page.context().setOffline(false);
  await page.goto(`${server.url}/vehicles/${id}`);
  await expect.poll(() => logOf(id)).toMatchObject([{ added_g: expect.closeTo(170.1, 0), cooling: "weak" }]);
  expect(await page.locator("main").textContent()).toContain("6 oz");
  await page.goto(server.url);
  expect(await waits(page).count()).toBe(0);
  expect(await logOf(id)).toHaveLength(1);
  expect(unexpected(problems)).toEqual([]);
  await close();
});

test("written for a vehicle whose page has no connection, it is sent as soon as there is one, with the page open", async () => {
  const id = await aVehicle("Opened without a signal");
  const { page, close } = await visited(browser, server.url);
  await page.context().setOffline(true);
  await page.goto(`${server.url}/vehicles/${id}`);
  await page.getByRole("link", { name: "Write down what you did" }).click();
  await writeTopOff(page, "3");
  await page.getByRole("button", { name: "Save on this device" }).click();
  await page.waitForURL(`${server.url}/waiting`);
  await page.goto(`${server.url}/readings`);
  await waits(page).waitFor();
  await page.context().setOffline(false);
  // The network that is only made out to be off tells no page that it is back.
  await page.evaluate(() => dispatchEvent(new Event("online")));
  await expect.poll(() => logOf(id)).toMatchObject([{ added_g: expect.closeTo(85, 0) }]);
  await expect.poll(() => waits(page).count()).toBe(0);
  await close();
});

test("written in one's own words, its vehicle is chosen when there is a connection, and nothing is typed twice", async () => {
  const id = await aVehicle("Blue van");
  await aVehicle("Red wagon");
  const { page, close } = await visited(browser, server.url);
  await page.context().setOffline(true);
  await page.reload();
  await line(page).getByRole("link", { name: "Write down what you did" }).click();
  await expectGoodEverywhere(page, "write-down");
  await page.setViewportSize(PHONE);
  await page.getByRole("button", { name: "Save on this device" }).click();
  await page.getByRole("link", { name: "Enter which vehicle it is" }).waitFor();
  await page.getByLabel("Which vehicle?").fill("the blue van");
  await writeTopOff(page, "9 oz");
  await page.getByText("Add a note").click();
  await page.getByLabel("Note").fill("hissed at the service port");
  await page.getByRole("button", { name: "Save on this device" }).click();
  await page.getByRole("heading", { name: "the blue van" }).waitFor();

  await page.context().setOffline(false);
  await page.getByRole("link", { name: "Choose its vehicle" }).click();
  await expectGoodEverywhere(page, "for-entry");
  await page.setViewportSize(PHONE);
  await page.getByRole("link", { name: "Blue van" }).click();
  expect(await page.getByLabel("Refrigerant added").inputValue()).toBe("9 oz");
  await page.getByLabel("Refrigerant added").fill("nine");
  await page.getByRole("button", { name: "Save" }).click();
  await page.locator(".error-summary").waitFor();
  await page.getByLabel("Refrigerant added").fill("9 oz");
  await page.getByRole("button", { name: "Save" }).click();
  await page.waitForURL(new RegExp(`/vehicles/${id}[?]saved=`));
  expect(await logOf(id)).toMatchObject([
    { added_g: expect.closeTo(255.1, 0), note: "hissed at the service port", cooling: "weak" },
  ]);
  await page.goto(`${server.url}/waiting`);
  await page.getByText("Nothing waits on this device").waitFor();
  await close();
});

test("for a vehicle that these records do not have, it stays, with why, until it is removed", async () => {
  const { page, close } = await visited(browser, server.url);
  await page.context().setOffline(true);
  await page.goto(`${server.url}/vehicles/00000000-0000-7000-8000-000000000000`);
  await page.getByRole("link", { name: "Write down what you did" }).click();
  await writeTopOff(page, "3 oz");
  await page.getByRole("button", { name: "Save on this device" }).click();
  await page.context().setOffline(false);
  await page.goto(server.url);
  await waits(page).getByRole("link").click();
  await page.getByText("not in the records that you are signed in to").waitFor();
  await page.getByText("Remove it").click();
  await page.getByRole("button", { name: "Remove for good" }).click();
  await page.getByText("Nothing waits on this device").waitFor();
  await close();
});
