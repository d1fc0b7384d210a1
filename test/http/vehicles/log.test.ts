import { describe, expect, test } from "vitest";
import { dayNumber, isoFromDay } from "../../../src/core/quantities/dates.ts";
import { linksRuntimes } from "../../support/links-app.ts";
import { formIn, textOf } from "../../support/page-form.ts";
import { Desk, locationOf } from "./desk.ts";
import { OUNCE_G } from "./question.ts";

describe.each(linksRuntimes)("vehicles on $name", ({ start }) => {
  const desk = new Desk(start);

  describe("an entry of the charge log", () => {
    test("is added, corrected with the old line in sight, and the correction undone", async () => {
      const { id, path } = await desk.vanWithEntry();
      const fresh = formIn(await desk.editor.page(`${path}/log/new?added=10+oz&finish=low-side`), "record-form");
      expect(fresh.get("added")).toBe("10 oz");
      fresh.set("when", "14 Mar 2025");
      fresh.set("cooling", "weak");
      const saved = locationOf(await desk.editor.post(`${path}/log`, fresh));
      const [, , line_id] = /log\.((\w+)\.1)$/.exec(saved.search) ?? [];
      const page = await desk.editor.page(`${path}${saved.search}`);
      expect(textOf(page)).toContain("The entry was saved. Undo");
      expect(textOf(page)).toContain("14 March 2025 poorly 10 oz added from cans; level checked with a low-side gauge");

      const correction = formIn(await desk.editor.page(`${path}/log/${line_id}`), "record-form");
      expect(correction.get("added")).toBe("10 oz");
      correction.set("added", "1 can");
      await desk.editor.post(`${path}/log/${line_id}/corrections`, correction);
      const versions = textOf(await desk.editor.page(`${path}/log/${line_id}`));
      expect(versions).toMatch(/Corrected .*12 oz added.*Added .*10 oz added/);

      await desk.editor.post(`${path}/log/${line_id}/undos`, { version: "2", submit_key: "u" });
      const [, entry] = await desk.store.chargeLog.list(id);
      expect(entry).toMatchObject({ id: line_id, version: 3, change: "restored" });
      expect(entry!.added_g).toBeCloseTo(10 * OUNCE_G, 6);
      const history = await desk.editor.page(`${path}/log/history`);
      expect(textOf(history)).toMatch(/Restored .*Corrected .*Added/);
      expect(history.match(/>(?:Added|Corrected|Restored)</g)).toHaveLength(4);
    });

    test("more recovered than a system holds is asked about: 60 oz from a van of 650 g", async () => {
      const { id, path } = await desk.vanWithEntry();
      const form = formIn(await desk.editor.page(`${path}/log/new`), "record-form");
      for (const [name, value] of Object.entries({
        when: "14 Mar 2025",
        what: "recharged",
        recovered: "60 oz",
        finish: "weighed",
      }))
        form.set(name, value);
      const answer = await desk.editor.post(`${path}/log`, form);
      expect(answer.status).toBe(422);
      expect(textOf(await answer.text())).toContain("That is more than the system holds");
      expect(await desk.store.chargeLog.list(id)).toHaveLength(1);
    });

    test("sent back untouched changes nothing", async () => {
      const { path, entry, entry_path } = await desk.vanWithEntry();
      const form = formIn(await desk.editor.page(entry_path), "record-form");
      expect(locationOf(await desk.editor.post(`${entry_path}/corrections`, form)).pathname).toBe(path);
      expect(await desk.store.chargeLog.versions(entry.id)).toHaveLength(1);
    });

    test("is removed, and comes back", async () => {
      const { path, entry, entry_path } = await desk.vanWithEntry();
      await desk.editor.page(path);
      await desk.editor.post(`${entry_path}/removals`, { version: "1", submit_key: "r" });
      const page = await desk.editor.page(`${path}?saved=log.${entry.id}.2`);
      expect(textOf(page)).toContain("The entry was removed. Undo");
      expect(textOf(page)).toContain("No entries yet.");
      const line = await desk.editor.page(entry_path);
      expect(textOf(line)).toContain("This entry was removed and no longer counts.");
      expect(textOf(line)).toContain("Restore it");
      await desk.editor.post(`${entry_path}/undos`, { version: "2", submit_key: "p" });
      expect(textOf(await desk.editor.page(path))).toContain("12 oz added from cans");
    });

    test("a look a day: the same again adds nothing, another takes its place, and can be undone", async () => {
      const { id, path } = await desk.vanWithEntry();
      const look = async (cooling: string) => locationOf(await desk.editor.post(`${path}/looks`, { cooling })).search;
      const looks = async () => (await desk.store.chargeLog.list(id)).slice(1).map(({ cooling }) => cooling);
      await look("weak");
      expect(await desk.editor.page(path)).toMatch(/value="weak" aria-pressed="true"/);
      expect(await look("weak")).toBe("?saved=same");
      expect(await looks()).toEqual(["weak"]);
      const saved = await look("short-cycling");
      expect(await looks()).toEqual(["short-cycling"]);
      expect(textOf(await desk.editor.page(`${path}${saved}`))).toContain("The entry was corrected. Undo");
      expect((await desk.editor.post(`${path}/looks`, { cooling: "lukewarm" })).status).toBe(400);
    });

    test("a look that contradicts one of the last days is asked about before it counts", async () => {
      const { id, path } = await desk.vanWithEntry();
      await desk.editor.post(`${path}/looks`, { cooling: "weak" });
      // As if it had been three days ago, whatever day the runtime believes it is.
      const look = (await desk.store.chargeLog.list(id)).at(-1)!;
      const before = isoFromDay(dayNumber(look.date) - 3);
      await desk.store.chargeLog.correct(look.id, look.version, { date: before, cooling: "weak" });
      const asked = await desk.editor.post(`${path}/looks`, { cooling: "ok" });
      expect(asked.status).toBe(409);
      expect(textOf(await asked.text())).toContain("Nothing was added or repaired since");
      const count = (await desk.store.chargeLog.list(id)).length;
      await desk.editor.post(`${path}/looks`, { cooling: "ok", sure: "yes" });
      expect(await desk.store.chargeLog.list(id)).toHaveLength(count + 1);
    });

    test.each([
      ["early June '24", "?", "2024-06-05", null],
      ["6/15/24", "2 x 12 oz", "2024-06-15", 680.4],
      ["about 14 June 2024", "16-18 oz", "2024-06-14", 481.9],
    ])("%s and %s are understood, as in the quick question", async (when, added, date, added_g) => {
      const { id, path } = await desk.vanWithEntry();
      const form = formIn(await desk.editor.page(`${path}/log/new`), "record-form");
      form.set("what", "topped-off");
      form.set("when", when);
      form.set("added", added);
      expect((await desk.editor.post(`${path}/log`, form)).status).toBe(303);
      const entry = (await desk.store.chargeLog.list(id)).find((one) => one.date === date);
      if (added_g === null) expect(entry).toMatchObject({ added_g: null, finish: "unknown" });
      else expect(entry!.added_g).toBeCloseTo(added_g, 1);
    });
  });
});
