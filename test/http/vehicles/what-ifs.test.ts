import { describe, expect, test } from "vitest";
import { linksRuntimes } from "../../support/links-app.ts";
import { textOf } from "../../support/page-form.ts";
import { Desk } from "./desk.ts";

describe.each(linksRuntimes)("vehicles on $name", ({ start }) => {
  const desk = new Desk(start);

  describe("what-ifs", () => {
    test("change the answer and not the record, and stand in the address", async () => {
      const { path } = await desk.vanWithEntry();
      const fragment = await desk.editor.get(`${path}?keep=12&service=shop&carbon=&quote=`, {
        "HX-Request": "true",
        "HX-Current-URL": `http://localhost${path}`,
      });
      expect(fragment.headers.get("HX-Push-Url")).toBe(`${path}?keep=12&service=shop`);
      const part = await fragment.text();
      expect(part).not.toContain("<html");
      expect(part).toContain('<div id="record-log" hx-morph-skip=""></div>');
      expect(textOf(part)).toMatch(/Over 12 years/);
      const whole = await desk.editor.page(`${path}?keep=12&service=shop`);
      expect(textOf(whole)).toMatch(/Over 12 years/);
      expect(whole).toContain('<input type="hidden" name="keep" value="12"');
      expect(textOf(await desk.editor.page(path))).toMatch(/Over 5 years/);
    });

    test("going back in history asks for the whole page", async () => {
      const { path } = await desk.vanWithEntry();
      const headers = { "HX-Request": "true", "HX-History-Restore-Request": "true" };
      expect(await (await desk.editor.get(`${path}?keep=12`, headers)).text()).toContain("<html");
    });

    test.each([
      ["keep", "99", "from 0.25 to 20"],
      ["quote", "a lot", "Enter the quote as an amount"],
      ["carbon", "99999", "from 0 to 10,000"],
    ])("%s=%s is put right at its field", async (field, typed, message) => {
      const { path } = await desk.vanWithEntry();
      const answer = await desk.editor.get(`${path}?${new URLSearchParams({ [field]: typed })}`);
      expect(answer.status).toBe(422);
      const page = await answer.text();
      expect(textOf(page)).toContain(message);
      expect(textOf(page)).toContain("12 oz added from cans");
    });

    test("the sensitivity comes later, as a part or as a page of its own", async () => {
      const { path } = await desk.vanWithEntry();
      expect(await desk.editor.page(path)).toContain(`hx-get="${path}/sensitivity"`);
      const part = await (await desk.editor.get(`${path}/sensitivity`, { "HX-Request": "true" })).text();
      expect(part).toMatch(/^<figure class="chart" id="sensitivity"/);
      expect(textOf(await desk.editor.page(`${path}/sensitivity?keep=2`))).toContain("What would change the answer");
    });
  });
});
