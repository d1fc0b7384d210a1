import { describe, expect, test } from "vitest";
import { linksRuntimes } from "../../support/links-app.ts";
import { formIn, textOf } from "../../support/page-form.ts";
import { Desk } from "./desk.ts";
import { OUNCE_G } from "./question.ts";

describe.each(linksRuntimes)("vehicles on $name", ({ start }) => {
  const desk = new Desk(start);

  describe("an entry of the charge log, sent twice or from two tabs", () => {
    test("one press of a button, arriving twice, is stored once", async () => {
      const { id, path } = await desk.vanWithEntry();
      const form = formIn(await desk.editor.page(path), "look");
      form.set("cooling", "ok");
      const sent = await Promise.all([
        desk.editor.post(`${path}/looks`, form),
        desk.editor.post(`${path}/looks`, form),
      ]);
      for (const { status } of sent) expect(status).toBe(303);
      expect(await desk.store.chargeLog.list(id)).toHaveLength(2);
    });

    test("the form of a page that was gone back to does not store a second entry in place of the first", async () => {
      const { id, path } = await desk.vanWithEntry();
      const form = formIn(await desk.editor.page(`${path}/log/new`), "record-form");
      form.set("when", "2 Feb 2025");
      form.set("cooling", "ok");
      await desk.editor.post(`${path}/log`, form);
      form.set("cooling", "weak");
      const answer = await desk.editor.post(`${path}/log`, form);
      expect(answer.status).toBe(409);
      const page = await answer.text();
      expect(textOf(page)).toMatch(/What is saved now .*cooled well.*Save as another entry/);
      const again = formIn(page, "record-form");
      expect(again.get("cooling")).toBe("weak");
      await desk.editor.post(`${path}/log`, again);
      expect((await desk.store.chargeLog.list(id)).map(({ cooling }) => cooling)).toEqual(["weak", "ok", "weak"]);
    });

    test("of two tabs, the second is told, loses nothing and can apply its change again", async () => {
      const { path, entry, entry_path } = await desk.vanWithEntry();
      const [first, second] = [
        formIn(await desk.editor.page(entry_path), "record-form"),
        formIn(await desk.editor.page(entry_path), "record-form"),
      ];
      first.set("added", "8 oz");
      await desk.editor.post(`${entry_path}/corrections`, first);
      second.set("added", "9 oz");
      second.set("note", "Mine: two\nlines");
      const answer = await desk.editor.post(`${entry_path}/corrections`, second);
      expect(answer.status).toBe(409);
      const page = await answer.text();
      expect(textOf(page)).toMatch(/Not saved yet .*What is saved now .*8 oz added.*Replace it with mine/);
      const again = formIn(page, "record-form");
      expect([again.get("added"), again.get("note"), again.get("version")]).toEqual(["9 oz", "Mine: two\nlines", "2"]);
      await desk.editor.post(`${entry_path}/corrections`, again);
      const newest = await desk.store.chargeLog.get(entry.id);
      expect(newest).toMatchObject({ version: 3, note: "Mine: two\nlines" });
      expect(newest.added_g).toBeCloseTo(9 * OUNCE_G, 6);
      expect(textOf(await desk.editor.page(path))).toContain("9 oz added");
    });

    test("removed in another tab, what was typed can be saved as a new one", async () => {
      const { id, entry, entry_path } = await desk.vanWithEntry();
      const form = formIn(await desk.editor.page(entry_path), "record-form");
      await desk.store.chargeLog.remove(entry.id, 1);
      form.set("added", "9 oz");
      const answer = await desk.editor.post(`${entry_path}/corrections`, form);
      expect(answer.status).toBe(409);
      const page = await answer.text();
      expect(textOf(page)).toContain("Save as a new entry");
      const action = /id="record-form"[^>]*action="([^"]*)"/.exec(page)?.[1];
      expect(action).toBe(`/vehicles/${id}/log`);
      await desk.editor.post(action!, formIn(page, "record-form"));
      expect(await desk.store.chargeLog.list(id)).toHaveLength(1);
    });

    test("an undo that was overtaken changes nothing", async () => {
      const { entry, entry_path } = await desk.vanWithEntry();
      await desk.store.chargeLog.correct(entry.id, 1, { date: "2024-05-02", cooling: "ok" });
      expect((await desk.editor.post(`${entry_path}/undos`, { version: "1", submit_key: "u" })).status).toBe(409);
      expect(await desk.store.chargeLog.versions(entry.id)).toHaveLength(2);
    });
  });
});
