import { describe, expect, test } from "vitest";
import { HARD_TEXTS } from "../../store/samples.ts";
import { linksRuntimes } from "../../support/links-app.ts";
import { decoded, formIn, textOf } from "../../support/page-form.ts";
import { Desk } from "./desk.ts";

describe.each(linksRuntimes)("vehicles on $name", ({ start }) => {
  const desk = new Desk(start);

  describe("notes", () => {
    test.each(HARD_TEXTS)("keep %j as it was written", async (body) => {
      const { id, path } = await desk.vanWithEntry();
      const form = formIn(await desk.editor.page(`${path}/notes/new`), "record-form");
      form.set("body", body);
      await desk.editor.post(`${path}/notes`, form);
      const page = await desk.editor.page(path);
      expect(decoded(page)).toContain(`<p class="written" dir="auto">${body}</p>`);
      expect((await desk.store.notes.list(id)).map((note) => note.body)).toEqual([body]);
    });

    test("of 20,000 signs are kept and folded; a sign more is given back whole", async () => {
      const { id, path } = await desk.vanWithEntry();
      const form = formIn(await desk.editor.page(`${path}/notes/new`), "record-form");
      const long = `${"The compressor hums. ".repeat(951)}${"👩🏽‍🔧".repeat(7)}!`.slice(0, 20_000 - 1);
      form.set("body", `${long}xx`);
      expect([...`${long}xx`].length).toBeGreaterThan(19_900);
      form.set("body", "y".repeat(20_001));
      const refused = await desk.editor.post(`${path}/notes`, form);
      expect(refused.status).toBe(422);
      expect(formIn(await refused.text(), "record-form").get("body")).toBe("y".repeat(20_001));
      form.set("body", "y".repeat(20_000));
      await desk.editor.post(`${path}/notes`, form);
      expect((await desk.store.notes.list(id))[0]!.body).toHaveLength(20_000);
      const page = await desk.editor.page(path);
      expect(page).toContain('<details class="long-note">');
      expect(textOf(page)).toContain("(20,000 characters)");
    });
  });

  describe("findings", () => {
    test("show the belief by place before and after each", async () => {
      const { path } = await desk.vanWithEntry();
      for (const [location, result] of [
        ["anywhere", ""],
        ["hose", "leak"],
      ] as const) {
        const form = formIn(await desk.editor.page(`${path}/findings/new`), "record-form");
        form.set("when", "2 Feb 2025");
        form.set("test", "electronic");
        form.set("location", location);
        if (result !== "") form.set("result", result);
        expect((await desk.editor.post(`${path}/findings`, form)).status).toBe(303);
      }
      const page = await desk.editor.page(path);
      const tables = [...page.matchAll(/<table class="beliefs">[\s\S]*?<\/table>/g)].map(([table]) => table);
      expect(tables).toHaveLength(2);
      const belief = (table: string, place: string) => {
        const row = new RegExp(`data-place="${place}">([\\s\\S]*?)</tr>`).exec(table)?.[1] ?? "";
        return [...row.matchAll(/<data value="([^"]*)"/g)].map(([, value]) => Number(value));
      };
      // Newest first; shares from the model's table of places.
      const [leak, clean] = tables as [string, string];
      expect(belief(clean, "hose")[0]).toBe(0.15);
      expect(belief(clean, "joint")[0]).toBe(0.25);
      expect(belief(leak, "hose")[0]).toBe(belief(clean, "hose")[1]);
      expect(belief(leak, "hose")[1]!).toBeGreaterThan(0.5);
      expect(textOf(page)).toContain("Electronic leak test: leak at a hose");
    });

    test("a leak needs a place", async () => {
      const { path } = await desk.vanWithEntry();
      const form = formIn(await desk.editor.page(`${path}/findings/new`), "record-form");
      form.set("location", "anywhere");
      form.set("result", "leak");
      const answer = await desk.editor.post(`${path}/findings`, form);
      expect(answer.status).toBe(422);
      const words = textOf(await answer.text());
      expect(words).toContain("Choose the test");
      expect(words).toContain("Choose the place where the leak was seen");
    });
  });
});
