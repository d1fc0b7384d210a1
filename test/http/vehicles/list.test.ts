import { describe, expect, test } from "vitest";
import { VAN } from "../../store/samples.ts";
import { linksRuntimes } from "../../support/links-app.ts";
import { decoded, textOf } from "../../support/page-form.ts";
import { Desk, locationOf } from "./desk.ts";
import { question } from "./question.ts";

describe.each(linksRuntimes)("vehicles on $name", ({ start }) => {
  const desk = new Desk(start);

  describe("the list", () => {
    test("says what to do next while it is empty", async () => {
      const page = await desk.editor.page("/vehicles");
      expect(textOf(page)).toContain("No vehicles yet.");
      expect(page).toContain('href="/"');
      expect(page).toContain('action="/vehicles/examples"');
    });

    test("shows each vehicle with its answer, next low date and leak", async () => {
      const at = locationOf(await desk.editor.post("/vehicles", question()));
      const page = await desk.editor.page("/vehicles");
      expect(page).toContain(`href="${at.pathname}"`);
      const words = textOf(page);
      expect(words).toMatch(/The blue van.*(Top it off|Leave it for now|Repair it|Dye test first)/);
      expect(words).toMatch(/Leak a year.*\d\Woz/);
      expect(words).toMatch(
        /Low now|(January|February|March|April|May|June|July|August|September|October|November|December) 20\d\d/,
      );
    });

    test("finds words in names, groups and notes, whatever their case and accents", async () => {
      await desk.store.vehicles.create({ ...VAN, label: "Été wagon" });
      await desk.store.vehicles.create({ ...VAN, label: "Van 2" }, { notes: [{ body: "Smells of café" }] });
      const found = async (q: string) => {
        const page = textOf(await desk.editor.page(`/vehicles?${new URLSearchParams({ q })}`));
        return ["Été wagon", "Van 2"].filter((label) => page.includes(label));
      };
      expect(await found("ete")).toEqual(["Été wagon"]);
      expect(await found("CAFE")).toEqual(["Van 2"]);
      expect(await found("wagon cafe")).toEqual([]);
      expect(textOf(await desk.editor.page("/vehicles?q=nowhere"))).toContain("No match.");
    });

    test("goes on over pages without losing or repeating one", async () => {
      for (let i = 1; i <= 27; i++) await desk.store.vehicles.create({ ...VAN, label: `Van ${i}` });
      const first = await desk.editor.page("/vehicles");
      const next = decoded(/href="([^"]*)" rel="next"/.exec(first)?.[1] ?? "");
      const second = await desk.editor.page(next);
      const labels = (page: string) => [...page.matchAll(/>(Van \d+)</g)].map(([, label]) => label);
      expect(labels(first)).toHaveLength(25);
      expect([...labels(first), ...labels(second)]).toEqual(Array.from({ length: 27 }, (_, i) => `Van ${i + 1}`));
      expect(second).toContain('href="/vehicles"');
      expect(textOf(first)).toContain("27 vehicles");
    });

    test("a page that is none of ours is refused in words", async () => {
      expect((await desk.editor.get("/vehicles?after=%5B%22")).status).toBe(422);
    });

    test("keeps what is archived on a page of its own, from where it comes back", async () => {
      const { id, path } = await desk.vanWithEntry();
      const form = { submit_key: "a1", version: "1" };
      expect(locationOf(await desk.editor.post(`${path}/archive`, form)).search).toBe("?saved=archived");
      await desk.editor.post(`${path}/archive`, form);
      expect(textOf(await desk.editor.page("/vehicles"))).not.toContain("Van 2 R-134a");
      expect(textOf(await desk.editor.page("/vehicles?archived=1"))).toContain("Van 2");
      expect(textOf(await desk.editor.page(path))).toContain("Archived: it is off the list");
      await desk.editor.post(`${path}/unarchive`, { submit_key: "a2", version: "2" });
      expect((await desk.store.vehicles.get(id)).archived_at).toBeNull();
    });
  });
});
