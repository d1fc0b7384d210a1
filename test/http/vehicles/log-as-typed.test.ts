import { describe, expect, test } from "vitest";
import { linksRuntimes } from "../../support/links-app.ts";
import { decoded, formIn, textOf } from "../../support/page-form.ts";
import { Desk } from "./desk.ts";

describe.each(linksRuntimes)("vehicles on $name", ({ start }) => {
  const desk = new Desk(start);

  describe("an entry of the charge log", () => {
    test("how a field was read stands beside it: as it is left, and after a submit that something else held up", async () => {
      const { path } = await desk.vanWithEntry();
      const read = async (query: string) => (await desk.editor.page(`${path}/log/read-back?${query}`)).trim();
      expect(await read("when=early+June+%2724")).toBe("Read as early June 2024");
      expect(await read("when=6%2F15%2F24")).toBe("Read as 15 June 2024");
      expect(await read("when=14+Jun+2024")).toBe("");
      expect(await read("when=last+summer")).toMatch(/^Read as summer \d{4}, about July$/);
      expect(await read("added=1+lb+4+oz")).toBe("");
      expect(await read("added=2+x+12+oz")).toBe("Read as 1 lb 8 oz");
      expect(await read("added=%3F")).toBe("Read as not known");
      expect(await read("recovered=lots")).toContain("Enter the amount");
      expect(await read("added=%3Cb%3E")).not.toContain("<b>");

      const form = formIn(await desk.editor.page(`${path}/log/new`), "record-form");
      form.set("when", "early June '24");
      form.set("added", "lots");
      const page = textOf(await (await desk.editor.post(`${path}/log`, form)).text());
      expect(page).toContain("Read as early June 2024");
    });

    test.each([
      ["when", "", "Enter when it was"],
      ["when", "31 Feb 2024", "There is no such day"],
      ["when", "03/04/2025", "can be"],
      ["when", "1 Jan 2099", "That date is in the future"],
      ["when", "1 Jan 1970", "Enter a date in the last 40 years"],
      ["when", "sometime", "Enter when it was, like"],
      ["added", "lots", "Enter the amount, like 12 oz or 340 g"],
      ["added", "-3 oz", "Enter 0 or more"],
      ["added", "1,250 g", "without a thousands sign"],
      ["added", "5 kg", "more than three times the nameplate charge"],
      ["recovered", "🧊", "Enter the amount"],
      ["cooling", "cold", "Choose how it cooled"],
      ["repair", "roof", "Choose the repaired location"],
      ["note", "x".repeat(2001), "Keep to 2,000 characters: this is 1 too long"],
    ])("%s put wrong (%.20s) is given back with a message at the field and on top", async (field, typed, message) => {
      const { id, path } = await desk.vanWithEntry();
      const form = formIn(await desk.editor.page(`${path}/log/new`), "record-form");
      form.set("when", "2 Feb 2025");
      form.set("added", "12 oz");
      form.set("note", "Kept <b>as it is</b>");
      form.set(field, typed);
      const answer = await desk.editor.post(`${path}/log`, form);
      expect(answer.status).toBe(422);
      const page = await answer.text();
      expect(page).toMatch(/<title>Error: /);
      const summary = /id="error-summary"[\s\S]*?<\/div>/.exec(page)?.[0] ?? "";
      expect(summary).toContain(`href="#${field}"`);
      expect(textOf(summary)).toContain(message);
      const at_field = new RegExp(`id="${field}-error"><span[^>]*>Error: </span>([^<]*)<`).exec(page)?.[1] ?? "";
      expect(decoded(at_field)).toContain(message);
      const back = formIn(page, "record-form");
      for (const [name, value] of form) {
        // A choice that does not exist cannot be shown as chosen.
        if (name === "submit_key" || ["cooling", "repair"].includes(field)) continue;
        expect(back.get(name), name).toBe(value);
      }
      expect(await desk.store.chargeLog.list(id)).toHaveLength(1);
    });

    test("that says nothing is asked to say something", async () => {
      const { path } = await desk.vanWithEntry();
      const form = formIn(await desk.editor.page(`${path}/log/new`), "record-form");
      const answer = await desk.editor.post(`${path}/log`, form);
      expect(answer.status).toBe(422);
      expect(textOf(await answer.text())).toContain("Choose how it cooled, or enter what was done");
    });
  });
});
