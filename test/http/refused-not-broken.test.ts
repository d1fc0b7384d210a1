import { describe, expect, test } from "vitest";
import { VAN } from "../store/samples.ts";
import { linksOnNode } from "../support/links-app.ts";
import { ShopDesk } from "./quotes/shop-desk.ts";
import { FORM, SettingsDesk } from "./settings/settings-desk.ts";

/** What once ended in an error of ours is refused, or taken, with a word for the person. */

const NULS = "\u0000\u0000";
const QUOTE = { customer: "Robin Ames", keep_years: "5", book: "retail" };
/** No submit keys of a form of ours. */
const NO_KEYS = ["", "x".repeat(65), "\u0000", "FORM\u0000"];

describe("what no browser sends", () => {
  const desk = new SettingsDesk(() => linksOnNode());
  const send = (path: string, type: string, body: string) =>
    desk.app.request(path, { method: "POST", headers: { ...desk.headers, "Content-Type": type }, body });

  test.each(["/settings/import", "/fleet/import", "/prices/import"])("%s: a form that cannot be read", async (path) => {
    const part = 'Content-Disposition: form-data; name="file"; filename="a"b.csv"\r\n\r\nx\r\n';
    const sent: [string, string][] = [
      ["multipart/form-data; boundary=x", `--x\r\n${part}--x--\r\n`],
      ["multipart/form-data; boundary=x", "--x\r\nnothing of a form"],
      ["multipart/form-data", "--x--"],
      ["text/plain", "x"],
      ["application/json", "{}"],
    ];
    for (const [type, body] of sent) {
      const { status } = await send(path, type, body);
      expect([path, type, body, status >= 400 && status < 500]).toEqual([path, type, body, true]);
    }
  });

  test("a text of nothing but NUL is no text", async () => {
    const form = "application/x-www-form-urlencoded";
    const of = (fields: Record<string, string>) => String(new URLSearchParams(fields));
    const named = await send("/settings", form, of({ ...FORM, name: NULS, version: "1" }));
    const key = await send("/settings/access", form, of({ purpose: "api", label: NULS, role: "viewer" }));
    expect([named.status, key.status]).toEqual([422, 422]);
    const { id } = await desk.store.vehicles.create({ ...VAN, label: "Van" });
    const note = await send(`/vehicles/${id}/notes`, form, of({ body: NULS }));
    const renamed = await send(`/vehicles/${id}/details`, form, of({ label: NULS, fleet_group: NULS, version: "1" }));
    expect([note.status, renamed.status]).toEqual([422, 422]);
    expect((await desk.store.record(id)).notes).toEqual([]);
  });

  test("a submit key that no form of ours has is none", async () => {
    const { id } = await desk.store.vehicles.create({ ...VAN, label: "Van" });
    for (const [i, no_key] of NO_KEYS.entries()) {
      const keyFor = (form: string) => ({ submit_key: no_key.replace("FORM", form) });
      const named = { ...FORM, name: `Garage ${i}`, version: `${i + 1}` };
      const settings = await desk.post("/settings", { ...named, ...keyFor("settings") });
      const access = { purpose: "link", label: "Sam", role: "viewer" };
      const link = await desk.post("/settings/access", { ...access, ...keyFor("access") });
      const quote = await desk.post(`/vehicles/${id}/quotes`, { ...QUOTE, ...keyFor("quotes") });
      expect([no_key, settings.status, link.status, quote.status]).toEqual([no_key, 303, 200, 303]);
    }
  });

  test("the examples are loaded again by a page from before they were taken away", async () => {
    const load = () => desk.post("/vehicles/examples", { submit_key: "old-page" });
    expect((await load()).status).toBe(303);
    const many = await desk.store.vehicles.count();
    await desk.post("/vehicles/examples/removal", {});
    expect([(await load()).status, await desk.store.vehicles.count()]).toEqual([303, many]);
  });
});

describe("a customer", () => {
  const desk = new ShopDesk(() => linksOnNode());

  test("whose name is nothing but NUL is asked for it", async () => {
    const { link } = await desk.send();
    const answer = await desk.customer.post(link, { choice: "a", name: NULS, years: "5" });
    expect([answer.status, await answer.text()]).toEqual([422, expect.stringContaining("Type your name")]);
  });
});

test("a log that cannot be read is not sent back in an address that is too long to arrive", async () => {
  const app = await linksOnNode();
  const lines = (count: number) => "&when=2025-05-01&did=cans&amount=250&cooled=weak".repeat(count);
  const asked = async (count: number) => app.request(`/top-off?refrigerant=R-134a&nameplate=lots${lines(count)}`);
  const [few, many] = [await asked(10), await asked(190)];
  expect([few.status, few.headers.get("Location")?.length ?? 0]).toEqual([303, expect.any(Number)]);
  expect([many.status, many.headers.get("Location")]).toEqual([400, null]);
  expect(await many.text()).toContain("Part of this charge log cannot be read");
  await app.close();
});
