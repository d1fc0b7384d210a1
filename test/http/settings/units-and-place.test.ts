import { describe, expect, test } from "vitest";
import { linksRuntimes } from "../../support/links-app.ts";
import { FORM, SettingsDesk } from "./settings-desk.ts";

describe.each(linksRuntimes)("settings on $name", ({ start }) => {
  const desk = new SettingsDesk(start);

  const hidden = (text: string, name: string) => new RegExp(`name="${name}" value="([^"]*)"`).exec(text)?.[1] ?? "";

  describe("units and place", () => {
    test("are saved, and what the form does not ask for stays", async () => {
      const before = await desk.store.settings.get();
      await desk.store.settings.update({ ...before, plan: { floor_months: 9 } }, 1);
      const answer = await desk.post("/settings", { ...FORM, version: "2" });
      expect([answer.status, answer.headers.get("Location")]).toEqual([303, "/settings?saved=1"]);
      expect(await desk.store.settings.get()).toMatchObject({
        ...{ name: "Garage", mass_unit: "g", temperature_unit: "C", pressure_unit: "bar-gauge", currency: "EUR" },
        ...{ place: "us-wi", climate: "hot-desert", monthly_mean_c: null, time_zone: "Europe/Berlin" },
        plan: { floor_months: 9 },
        version: 3,
      });
      expect(await desk.page("/settings?saved=1")).toContain("Saved.");
    });

    test("nobody said where: no rules, no climate", async () => {
      await desk.post("/settings", { ...FORM, place: "elsewhere", climate: "", version: "1" });
      expect(await desk.store.settings.get()).toMatchObject({ place: null, climate: null, monthly_mean_c: null });
    });

    test("own monthly means are read in the chosen unit, and stay exact when nobody touches them", async () => {
      const means = "13 15.7 17,3 23.7; 27.3 34 35.6, 33.8 30.4 24.8 18 -0.5";
      await desk.post("/settings", { ...FORM, climate: "own", means, version: "1" });
      const monthly_mean_c = [13, 15.7, 17.3, 23.7, 27.3, 34, 35.6, 33.8, 30.4, 24.8, 18, -0.5];
      expect((await desk.store.settings.get()).monthly_mean_c).toEqual(monthly_mean_c);
      const shown = "55.4 60.3 63.1 74.7 81.1 93.2 96.1 92.8 86.7 76.6 64.4 31.1";
      await desk.post("/settings", { ...FORM, temperature_unit: "F", climate: "own", means: shown, version: "2" });
      expect((await desk.store.settings.get()).monthly_mean_c).toEqual(monthly_mean_c);
      const page = await desk.page("/settings");
      expect(page).toContain(`value="${shown}"`);
      // A month in a climate's description keeps its capital.
      expect(page).toContain(": hot, dry summers from December to March");
    });

    test.each([
      ["name", " ", "Enter a name of 1 to 120 characters"],
      ["name", "x".repeat(121), "Enter a name of 1 to 120 characters"],
      ["mass_unit", "kg", "Choose how masses are shown"],
      ["temperature_unit", "K", "Choose °F or °C"],
      ["pressure_unit", "", "Choose what your gauges show"],
      ["currency", "ABC", "Choose the currency"],
      ["place", "mars", "Choose where the vehicles are"],
      ["climate", "mild", "Choose the climate, or leave it not said"],
      ["time_zone", "Mars/Base", "Choose the time zone"],
    ])("%s: %j is put right, with everything as it was typed", async (field, value, message) => {
      const answer = await desk.post("/settings", { ...FORM, [field]: value, version: "1" });
      const text = await answer.text();
      expect(answer.status).toBe(422);
      expect(text).toContain(`<a href="#${field}">${message}</a>`);
      expect(text).toContain(field === "time_zone" ? 'value="EUR" selected' : 'value="Europe/Berlin" selected');
      expect((await desk.store.settings.get()).version).toBe(1);
    });

    test.each([
      ["1 2 3", "these are 3"],
      ["1 2 3 4 5 6 7 8 9 10 11 mild", "Check “mild”"],
      ["1 2 3 4 5 6 7 8 9 10 11 51", "Check “51”"],
      ["", "these are 0"],
    ])("own means %j are put right", async (means, message) => {
      const answer = await desk.post("/settings", { ...FORM, climate: "own", means, version: "1" });
      expect([answer.status, await answer.text()]).toEqual([422, expect.stringContaining(message)]);
    });

    test("saved by someone else in the meantime: says what is set now, keeps what was typed, and saves it when sent again", async () => {
      await desk.post("/settings", { ...FORM, name: "Yard", version: "1" });
      const late = await desk.post("/settings", { ...FORM, currency: "CAD", version: "1" });
      const text = await late.text();
      expect(late.status).toBe(409);
      expect(text).toContain('<dt>The name is now</dt><dd dir="auto">Yard</dd>');
      expect(text).toContain('value="CAD" selected');
      expect(hidden(text, "version")).toBe("2");
      expect((await desk.post("/settings", { ...FORM, currency: "CAD", version: "2" })).status).toBe(303);
      expect(await desk.store.settings.get()).toMatchObject({ name: "Garage", currency: "CAD", version: 3 });
    });

    test("the same press arriving twice saves once", async () => {
      for (let press = 0; press < 2; press += 1)
        expect((await desk.post("/settings", { ...FORM, version: "1", submit_key: "press" })).status).toBe(303);
      expect((await desk.store.settings.get()).version).toBe(2);
    });
  });
});
