import { readFileSync } from "node:fs";
import { copyFile, rm } from "node:fs/promises";
import { type AddressInfo, connect, createServer } from "node:net";
import { basename, join } from "node:path";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { DIST } from "../support/paths.ts";
import { type RunningServer, startServer } from "../support/server.ts";
import { controlled, line, sentence, unexpected, visited as visitedBy } from "./offline-desk.ts";
import { expectGoodEverywhere, launchChromium, PHONE } from "./support.ts";

/** Read, not imported: the types of an earlier build know other files. */
const manifest: Record<string, string> = JSON.parse(readFileSync(join(DIST, "assets.json"), "utf8"));

let browser: Browser;
let server: RunningServer;
beforeAll(async () => {
  [browser, server] = await Promise.all([launchChromium(), startServer()]);
});
afterAll(async () => {
  await browser.close();
  await server.stop();
});

/** A page of a server, on a phone that has been there once. */
const visited = (path: string, url = server.url) => visitedBy(browser, url + path);

test("in the driveway: the question, its answer, readings, the plan and back, with the network off", async () => {
  const { page, problems, close } = await visited("/");
  await page.context().setOffline(true);
  await page.reload();
  await line(page).waitFor();
  await expectGoodEverywhere(page, "offline-question");
  await page.setViewportSize(PHONE);

  await page.locator("#refrigerant").selectOption("R-134a");
  await page.locator("#nameplate").fill("23 oz");
  await page.locator("#when-1").fill("June 2025");
  await page.locator("#amount-1").fill("12 oz");
  await page.locator("#today").selectOption("weak");
  await expect.poll(() => sentence(page)).toMatch(/^(Top it off|Repair it|Do a dye test|Test)/);
  await expect.poll(() => new URL(page.url()).searchParams.get("today")).toBe("weak");
  const said = await sentence(page);
  const address = page.url();
  await page.reload();
  expect(await sentence(page)).toBe(said);
  await page.waitForLoadState("networkidle");
  await expectGoodEverywhere(page, "offline-answer", () => page.waitForTimeout(200));
  await page.setViewportSize(PHONE);

  await page.getByRole("link", { name: "Readings", exact: true }).click();
  await page.waitForURL(/\/readings$/);
  await page.locator("#ambient").fill("85");
  await page.locator("#low").fill("15");
  await page.locator("#high").fill("150");
  await page.locator("#vent").fill("62");
  await page.keyboard.press("Enter");
  await page.waitForURL(/\/readings\?/);
  await page
    .getByText(/charge/i)
    .first()
    .waitFor();
  await expectGoodEverywhere(page, "offline-readings");
  await page.setViewportSize(PHONE);
  await page.goBack();
  await page.goBack();
  await page.waitForURL(address);
  expect(await sentence(page)).toBe(said);

  await page.goto(address.replace("/?", "/top-off?"));
  await line(page).waitFor();
  await expectGoodEverywhere(page, "offline-plan");

  await page.context().setOffline(false);
  await page.goto(address);
  expect(await line(page).count()).toBe(0);
  expect(await sentence(page)).toBe(said);
  expect(unexpected(problems)).toEqual([]);
  await close();
});

test("a page that is open says so once its answers come from the device, and no more when they don't", async () => {
  const { page, problems, close } = await visited("/?example=1");
  const said = await sentence(page);
  await page.context().setOffline(true);
  await page.locator(".ask-change").click();
  await page.locator("#today").selectOption("ok");
  await expect.poll(() => sentence(page)).not.toBe(said);
  await line(page).waitFor();
  await page.context().setOffline(false);
  await page.locator("#today").selectOption("weak");
  await expect.poll(() => sentence(page)).toBe(said);
  await expect.poll(() => line(page).count()).toBe(0);
  expect(unexpected(problems)).toEqual([]);
  await close();
});

describe("a phone that several people use", () => {
  test("keeps the files of this version and nothing of anybody; records need a connection", async () => {
    const made = await fetch(`${server.url}/api/vehicles`, {
      method: "POST",
      headers: { "Content-Type": "application/json" },
      body: JSON.stringify({ label: "Secret sedan", refrigerant: "R-134a", nameplate_g: 650 }),
    });
    const { id } = (await made.json()) as { id: string };
    const { page, close } = await visited("/?example=1");
    for (const path of ["/vehicles", `/vehicles/${id}`, `/vehicles/${id}/log/new`, "/settings", "/"]) {
      await page.goto(server.url + path);
      await page.waitForLoadState("networkidle");
    }
    const kept = await keptHere(page);
    // A fleet's charts are on no page that a device makes.
    const { "device.js": _, "fleet-charts.js": __, ...needed } = manifest;
    expect(new Set(kept.addresses)).toEqual(new Set(Object.values(needed)));
    expect(kept.databases).toEqual([]);
    expect(kept.stored).toBe(0);
    expect(kept.text).not.toContain("Secret sedan");

    await page.context().setOffline(true);
    for (const path of ["/vehicles", `/vehicles/${id}`]) {
      await page.goto(server.url + path);
      expect(await page.getByRole("heading", { level: 1 }).textContent()).toBe("This page needs a connection");
      expect(await page.content()).not.toContain("Secret sedan");
    }
    await expectGoodEverywhere(page, "offline-no-connection");
    await close();
  });

  test("has nothing left of someone who left", async () => {
    const served = await startServer({ HOST: "0.0.0.0" });
    const linkIn = () => /\/access\/[\w-]{43,86}$/m.exec(served.output())?.[0];
    await expect.poll(linkIn).toBeDefined();
    const url = served.url.replace("0.0.0.0", "localhost");
    const { page, close } = await visited("/", url);
    await page.goto(url + linkIn());
    await page.getByRole("button", { name: "Open" }).click();
    await page.waitForURL(`${url}/vehicles`);
    await page.evaluate(async () => {
      await caches.open("of the former");
      localStorage.setItem("former", "yes");
      await new Promise((resolve) => {
        indexedDB.open("of the former").onsuccess = resolve;
      });
    });
    await page.goto(`${url}/settings`);
    await page.getByRole("button", { name: "Leave on this device" }).click();
    await page.waitForURL(`${url}/`);
    await expect.poll(async () => (await keptHere(page)).stored).toBe(0);
    expect((await keptHere(page)).caches).not.toContain("of the former");
    await expect.poll(async () => (await keptHere(page)).databases).toEqual([]);
    await controlled(page);
    await page.context().setOffline(true);
    await page.goBack();
    expect(await page.content()).not.toContain("Leave on this device");
    await close();
    await served.stop();
  });
});

function keptHere(page: Page) {
  return page.evaluate(async () => {
    const names = await caches.keys();
    const opened = await Promise.all(names.map((name) => caches.open(name)));
    const requests = (await Promise.all(opened.map((cache) => cache.keys()))).flat();
    const answers = await Promise.all(requests.map((request) => caches.match(request)));
    const texts = await Promise.all(answers.map((answer) => answer?.text()));
    return {
      caches: names,
      addresses: requests.map(({ url }) => new URL(url).pathname),
      text: texts.join("\n"),
      databases: await indexedDB.databases(),
      stored: localStorage.length + sessionStorage.length,
    };
  });
}

test("a new version takes the place of the old one, files and all", async () => {
  const current = manifest["device.js"]!;
  const other = "/assets/device-OTHER000.js";
  await copyFile(join(DIST, "public", current), join(DIST, "public", other));
  try {
    const { page, close } = await visited("/");
    const register = (script: string) =>
      page.evaluate(async (address) => {
        await navigator.serviceWorker.register(address, { scope: "/" });
      }, script);
    const versions = async () => (await keptHere(page)).caches;
    expect(await versions()).toEqual([`seepwise${current}`]);
    await register(other);
    await expect.poll(versions).toEqual([`seepwise${other}`]);
    // The page says which it came with, and has it again.
    await page.reload();
    await expect.poll(versions).toEqual([`seepwise${current}`]);
    await expect
      .poll(() => page.evaluate(() => navigator.serviceWorker.controller?.scriptURL))
      .toContain(basename(current));
    await close();
  } finally {
    await rm(join(DIST, "public", other));
  }
});

test("a connection that leads nowhere is waited for five seconds, then the device answers", async () => {
  const served = await startServer({ HOST: "0.0.0.0" });
  const wire = await wireTo(Number(new URL(served.url).port));
  const { page, close } = await visited("/?example=1", wire.url);
  const said = await sentence(page);
  wire.hold();
  const began = Date.now();
  await page.reload();
  expect(Date.now() - began).toBeGreaterThan(4900);
  await line(page).waitFor();
  expect(await sentence(page)).toBe(said);
  await close();
  await wire.close();
  await served.stop();
});

/** A connection to a port of this machine that can be held: then everything sent into it stays there. */
async function wireTo(port: number) {
  let held = false;
  const wire = createServer((socket) => {
    const onward = connect(port, "127.0.0.1");
    for (const end of [socket, onward]) end.on("error", () => {});
    socket.on("data", (sent) => !held && onward.write(sent));
    onward.on("data", (answer) => !held && socket.write(answer));
    socket.on("close", () => onward.destroy());
    onward.on("close", () => !held && socket.destroy());
  });
  await new Promise<void>((resolve) => wire.listen(0, "127.0.0.1", resolve));
  return {
    url: `http://localhost:${(wire.address() as AddressInfo).port}`,
    hold: () => {
      held = true;
    },
    close: () => new Promise((resolve) => wire.close(resolve)),
  };
}
