import { describe, expect, test } from "vitest";
import { VAN } from "../../store/samples.ts";
import { linksRuntimes } from "../../support/links-app.ts";
import { SettingsDesk } from "./settings-desk.ts";

const SAME_ORIGIN = { "Sec-Fetch-Site": "same-origin" };

describe.each(linksRuntimes)("settings on $name", ({ start }) => {
  const desk = new SettingsDesk(start);

  describe("who gets in", () => {
    const made = async (form: Record<string, string>) => {
      const answer = await desk.post("/settings/access", { submit_key: "press", ...form });
      expect([answer.status, answer.headers.get("Cache-Control")]).toEqual([200, "no-store"]);
      return /id="secret" value="([^"]*)"/.exec(await answer.text())?.[1] ?? "";
    };

    test("a link is shown once, lets in who opens it, and is listed without its key", async () => {
      const secret = await made({ purpose: "link", label: "Sam’s phone", role: "editor" });
      expect(secret).toMatch(/^https?:\/\/[^/]+\/access\/[\w-]{43,86}$/);
      const opened = await desk.app.request(new URL(secret).pathname, { method: "POST", headers: SAME_ORIGIN });
      expect(opened.status).toBe(303);
      const list = await desk.page("/settings/access");
      expect(list).toContain("Sam’s phone");
      expect(list).toContain("(this browser)");
      expect(list).not.toContain(secret.split("/").at(-1));
    });

    test("a key opens the API in its role, a calendar link the calendar", async () => {
      const key = await made({ purpose: "api", label: "script", role: "viewer" });
      const bearer = { Authorization: `Bearer ${key}`, "Content-Type": "application/json" };
      expect((await desk.app.request("/api/vehicles", { headers: bearer })).status).toBe(200);
      const sent = { method: "POST", headers: bearer, body: JSON.stringify(VAN) };
      expect((await desk.app.request("/api/vehicles", sent)).status).toBe(403);
      const calendar = await made({ purpose: "feed", label: "workshop", submit_key: "another" });
      expect((await desk.app.request(new URL(calendar).pathname)).status).toBe(200);
    });

    test("the same press arriving twice leaves the key that was shown last", async () => {
      const keys = [];
      for (let press = 0; press < 2; press += 1)
        keys.push(await made({ purpose: "api", label: "script", role: "viewer" }));
      const status = async (key: string) =>
        (await desk.app.request("/api/vehicles", { headers: { Authorization: `Bearer ${key}` } })).status;
      expect([await status(keys[0]!), await status(keys[1]!)]).toEqual([401, 200]);
    });

    test("revoked, it is out at once, and stays in the list as revoked", async () => {
      const key = await made({ purpose: "api", label: "script", role: "viewer" });
      const { id } = (await desk.store.accessKeys.list()).find(({ purpose }) => purpose === "api")!;
      // Asked first: each button stands behind what it means, one's own browser behind what that means.
      const page = await desk.page("/settings/access");
      const asked = page.match(/<details class="confirm">.*?<\/details>/gs) ?? [];
      expect(asked.filter((one) => one.includes(`/settings/access/${id}/revocation`))).toHaveLength(1);
      expect(page.match(/\/revocation"/g)).toHaveLength(asked.length);
      expect(asked.join()).toContain("This browser loses its access at once");
      const answer = await desk.post(`/settings/access/${id}/revocation`, {});
      expect([answer.status, answer.headers.get("Location")]).toEqual([303, "/settings/access"]);
      expect((await desk.app.request("/api/vehicles", { headers: { Authorization: `Bearer ${key}` } })).status).toBe(
        401,
      );
      expect(await desk.page("/settings/access")).toContain("Revoked (1)");
    });

    test("the last owner's link stays", async () => {
      const { id } = (await desk.store.accessKeys.list()).find(({ purpose }) => purpose === "link")!;
      const answer = await desk.post(`/settings/access/${id}/revocation`, {});
      expect([answer.status, await answer.text()]).toEqual([403, expect.stringContaining("the last owner")]);
    });

    test.each([
      [{ purpose: "link", label: "", role: "viewer" }, "link-label"],
      [{ purpose: "api", label: "x".repeat(121), role: "viewer" }, "api-label"],
      [{ purpose: "api", label: "script" }, "api-role"],
      [{ purpose: "link", label: "Sam", role: "god" }, "link-role"],
    ])("%o is put right at its field", async (form, field) => {
      const answer = await desk.post("/settings/access", form);
      expect([answer.status, await answer.text()]).toEqual([422, expect.stringContaining(`<a href="#${field}">`)]);
      expect(await desk.store.accessKeys.list()).toHaveLength(1);
    });
  });
});
