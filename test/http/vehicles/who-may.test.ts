import { describe, expect, test } from "vitest";
import { newStore } from "../../store/engines.ts";
import { linksRuntimes } from "../../support/links-app.ts";
import { formIn, textOf } from "../../support/page-form.ts";
import { Desk } from "./desk.ts";

describe.each(linksRuntimes)("vehicles on $name", ({ start }) => {
  const desk = new Desk(start);

  describe("who may see and change what", () => {
    test("a viewer sees everything and is offered no change", async () => {
      const { path, entry_path } = await desk.vanWithEntry();
      const viewer = await desk.as("viewer");
      const page = await viewer.page(path);
      expect(textOf(page)).toContain("12 oz added from cans");
      expect(page.slice(page.indexOf("<main"))).not.toContain('method="post"');
      expect(page).not.toContain("/log/new");
      for (const form of [`${path}/log/new`, entry_path, `${path}/details`, "/vehicles/new"])
        expect((await viewer.get(form)).status, form).toBe(403);
      await viewer.page(`${path}/log/history`);
      await viewer.page("/vehicles");
    });

    test("nothing of another workspace is found, however its address was come by", async () => {
      const { path, entry, entry_path } = await desk.vanWithEntry();
      desk.store = await newStore(desk.app.sql);
      const stranger = await desk.as("owner");
      for (const address of [path, entry_path, `${path}/details`, `${path}/log/new`, `${path}/log/history`])
        expect((await stranger.get(address)).status, address).toBe(404);
      const mine = await desk.vanWithEntry();
      const change = { version: "1", submit_key: "x", when: "2 Feb 2025", cooling: "ok" };
      for (const address of [
        `${path}/log`,
        `${entry_path}/corrections`,
        `${mine.path}/log/${entry.id}/corrections`,
        `${mine.path}/log/${entry.id}/removals`,
      ])
        expect((await stranger.post(address, change)).status, address).toBe(404);
    });

    test("an entry is found under its own vehicle only", async () => {
      const [one, other] = [await desk.vanWithEntry(), await desk.vanWithEntry()];
      expect((await desk.editor.get(`${one.path}/log/${other.entry.id}`)).status).toBe(404);
      const change = { version: "1", submit_key: "x" };
      expect((await desk.editor.post(`${one.path}/log/${other.entry.id}/removals`, change)).status).toBe(404);
      expect(await desk.store.chargeLog.versions(other.entry.id)).toHaveLength(1);
    });
  });

  describe("a page that is kept in memory", () => {
    test("is never older than the record, and no two copies share a key", async () => {
      const { id, path } = await desk.vanWithEntry();
      const key = (page: string) => formIn(page, "look").get("submit_key");
      const [first, second] = [await desk.editor.page(path), await desk.editor.page(path)];
      expect(key(first)).not.toBe(key(second));
      expect(second.replaceAll(key(second)!.slice(0, 20), "")).toBe(first.replaceAll(key(first)!.slice(0, 20), ""));
      await desk.store.chargeLog.add(id, { date: "2025-05-05", cooling: "weak" });
      expect(textOf(await desk.editor.page(path))).toContain("5 May 2025");
      await desk.store.notes.add(id, { body: "Seen at once" });
      expect(textOf(await desk.editor.page(path))).toContain("Seen at once");
    });

    test("is made anew for someone with another role", async () => {
      const { path } = await desk.vanWithEntry();
      expect(await desk.editor.page(path)).toContain('id="look"');
      expect(await (await desk.as("viewer")).page(path)).not.toContain('id="look"');
    });
  });
});
