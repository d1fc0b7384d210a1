import { describe, expect, test } from "vitest";
import { cookieOf, linksRuntimes } from "../../support/links-app.ts";
import { textOf } from "../../support/page-form.ts";
import { Person } from "../../support/person.ts";
import { Desk, locationOf } from "./desk.ts";
import { OUNCE_G, question } from "./question.ts";

describe.each(linksRuntimes)("vehicles on $name", ({ start }) => {
  const desk = new Desk(start);

  describe("keeping the quick question", () => {
    test("stores everything that was typed, and shows the vehicle", async () => {
      const at = locationOf(await desk.editor.post("/vehicles", question()));
      expect(at.search).toBe("?saved=kept");
      const { vehicle, charge_log } = await desk.store.record(at.pathname.split("/")[2]!);
      expect(vehicle).toMatchObject({
        label: "The blue van",
        refrigerant: "R-134a",
        climate: "warm-continental",
        plan: { keep_years: 7, service: "shop", tools_owned: true, carbon_price_per_t: 190, floor_months: 9 },
        prices: {},
        example: false,
      });
      expect(vehicle.nameplate_g).toBeCloseTo(23 * OUNCE_G, 6);
      expect(charge_log).toMatchObject([
        { date: "2023-07-09", cooling: "weak", added_by: "cans", repair: null },
        { date: "2024-06-15", cooling: null, finish: "weighed", repair: "hose" },
        { date: "2025-03-01", cooling: "ok", added_g: null },
      ]);
      expect(charge_log[0]!.added_g).toBeCloseTo(12 * OUNCE_G, 6);
      expect(charge_log[1]!.added_g).toBeCloseTo(23 * OUNCE_G, 6);
      const page = textOf(await desk.editor.page(`${at.pathname}${at.search}`));
      expect(page).toContain("The blue van");
      expect(page).toContain("9 July 2023");
      expect(page).toContain("12 oz added from cans");
      expect(page).toContain("Did the repair hold?");
    });

    test("keeps how vague a season is, in the log, its form and the answer", async () => {
      const asked = new URLSearchParams(question());
      asked.delete("when");
      for (const when of ["summer 2023", "15 June 2024"]) asked.append("when", when);
      const at = locationOf(await desk.editor.post("/vehicles", asked));
      expect(at.search).toBe("?saved=kept");
      const { charge_log } = await desk.store.record(at.pathname.split("/")[2]!);
      // June to August (meteorological summer of the northern half, as the question reads it): 16 July, by 46 days.
      expect(charge_log.map(({ date, date_within_days }) => [date, date_within_days])).toEqual([
        ["2023-07-16", 46],
        ["2024-06-15", null],
        ["2025-03-01", null],
      ]);
      const page = textOf(await desk.editor.page(at.pathname));
      expect(page).toContain("summer 2023");
      expect(page).toContain("Some dates are rough");
      const form = await desk.editor.page(`${at.pathname}/log/${charge_log[0]!.id}`);
      expect(form).toContain('value="summer 2023"');
    });

    test("takes a supposed place and quote along in the address, and records neither", async () => {
      const at = locationOf(await desk.editor.post("/vehicles", question({ place: "hose", quote: "$1,250" })));
      expect(Object.fromEntries(at.searchParams)).toEqual({ place: "hose", quote: "$1,250", saved: "kept" });
      const page = await desk.editor.page(`${at.pathname}${at.search}`);
      expect(page).toContain('value="$1,250"');
      expect(textOf(page)).toContain("This is a what-if with values that are not saved.");
    });

    test("a double click keeps it once", async () => {
      const [first, second] = await Promise.all([
        desk.editor.post("/vehicles", question()),
        desk.editor.post("/vehicles", question()),
      ]);
      expect(locationOf(second).pathname).toBe(locationOf(first).pathname);
      expect(await desk.store.vehicles.count()).toBe(1);
    });

    test("gives back what cannot be kept, with all of it as it was typed", async () => {
      const wrong = question({ nameplate: "a lot", label: "x".repeat(121), quote: "cheap" });
      wrong.append("when", "31 Feb 2024");
      wrong.append("amount", "some");
      const answer = await desk.editor.post("/vehicles", wrong);
      expect(answer.status).toBe(422);
      const page = await answer.text();
      for (const typed of ["a lot", "x".repeat(121), "cheap", "31 Feb 2024", "some", "9 Jul 2023", "1 lb 7 oz"])
        expect(page).toContain(`value="${typed}"`);
      const words = textOf(page);
      expect(words).toContain("things to continue");
      expect(words).toContain("There is no such day");
      expect(words).toContain("Keep to 120 characters: this is 1 too long");
      expect(await desk.store.vehicles.count()).toBe(0);
    });

    test("without a name it gets one", async () => {
      await desk.editor.post("/vehicles", question({ label: "  " }));
      await desk.editor.post("/vehicles", question({ label: "", submit_key: "k2" }));
      const { items } = await desk.store.vehicles.list();
      expect(items.map(({ label }) => label)).toEqual(["Vehicle 1", "Vehicle 2"]);
    });

    test("the first vehicle brings its units along, the second does not", async () => {
      await desk.editor.post("/vehicles", question({ units: "metric", nameplate: "650 g" }));
      expect(await desk.store.settings.get()).toMatchObject({ mass_unit: "g", temperature_unit: "C" });
      await desk.editor.post("/vehicles", question({ submit_key: "k2" }));
      expect(await desk.store.settings.get()).toMatchObject({ mass_unit: "g" });
    });

    test("someone without access gets records of their own, and a link that leads back", async () => {
      const answer = await new Person(desk.app).post("/vehicles", question());
      expect(answer.status).toBe(201);
      expect(answer.headers.get("Cache-Control")).toBe("no-store");
      const page = await answer.text();
      const path = /href="(\/vehicles\/[0-9a-z]{20})"/.exec(page)?.[1] ?? "";
      const owner = new Person(desk.app, { Cookie: cookieOf(answer) });
      expect(textOf(await owner.page(path))).toContain("The blue van");
      expect((await desk.editor.get(path)).status).toBe(404);
      const link = /\/access\/[\w-]{43,86}/.exec(page)?.[0] ?? "";
      expect(textOf(await new Person(desk.app).page(link))).toContain("on this device");
    });

    test("who may only look keeps nothing", async () => {
      expect((await (await desk.as("viewer")).post("/vehicles", question())).status).toBe(403);
      expect(await desk.store.vehicles.count()).toBe(0);
    });
  });

  describe("the examples", () => {
    test("load with one button, are marked, and go with one button, leaving the rest", async () => {
      const { id } = await desk.vanWithEntry();
      const submit = { submit_key: "e1" };
      const [first] = await Promise.all([
        desk.editor.post("/vehicles/examples", submit),
        desk.editor.post("/vehicles/examples", submit),
      ]);
      expect(locationOf(first).search).toBe("?examples=loaded");
      const { items } = await desk.store.vehicles.list();
      const examples = items.filter(({ example }) => example);
      expect(examples.length).toBeGreaterThanOrEqual(5);
      expect(new Set(examples.map(({ label }) => label)).size).toBe(examples.length);
      const page = await desk.editor.page("/vehicles");
      expect(page.match(/<span class="tag">sample<\/span>/g)).toHaveLength(examples.length);
      for (const example of examples) {
        const shown = textOf(await desk.editor.page(`/vehicles/${example.id}`));
        expect(shown).toContain("Sample vehicle.");
      }
      expect(locationOf(await desk.editor.post("/vehicles/examples/removal")).search).toBe("?examples=removed");
      expect((await desk.store.vehicles.list()).items.map((vehicle) => vehicle.id)).toEqual([id]);
      expect(await desk.store.vehicles.count({ archived: true })).toBe(0);
    });
  });
});
