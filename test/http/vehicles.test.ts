import { afterAll, beforeAll, beforeEach, describe, expect, test } from "vitest";
import { dayNumber, isoFromDay } from "../../src/core/quantities/dates.ts";
import type { Role } from "../../src/store/roles.ts";
import type { WorkspaceStore } from "../../src/store/workspace-store.ts";
import { newStore } from "../store/engines.ts";
import { HARD_TEXTS, VAN } from "../store/samples.ts";
import { browser, cookieOf, type LinksApp, linksRuntimes } from "../support/links-app.ts";
import { decoded, formIn, textOf } from "../support/page-form.ts";
import { Person } from "../support/person.ts";

/** The quick question as the start page sends it; days far enough back for any clock. */
const QUESTION = [
  ["units", "us"],
  ["refrigerant", "R-134a"],
  ["nameplate", "23 oz"],
  ["climate", "warm-continental"],
  ["when", "9 Jul 2023"],
  ["did", "cans"],
  ["amount", "12 oz"],
  ["cooled", "weak"],
  ["when", "June 2024"],
  ["did", "repair-hose"],
  ["amount", "1 lb 7 oz"],
  ["cooled", ""],
  ["today", "ok"],
  ["keep", "7"],
  ["service", "shop"],
  ["tools", "yes"],
  ["as_of", "2025-03-01"],
  ["carbon", "190"],
  ["floor", "9"],
  ["label", "The blue van"],
  ["submit_key", "k1"],
] as const;

function question(changes: Record<string, string> = {}): URLSearchParams {
  const fields = new URLSearchParams(QUESTION.map(([name, value]): [string, string] => [name, value]));
  for (const [name, value] of Object.entries(changes)) fields.set(name, value);
  return fields;
}

const OUNCE_G = 28.349523125; // NIST SP 811 (2008), appendix B

describe.each(linksRuntimes)("vehicles on $name", ({ start }) => {
  let app: LinksApp;
  let store: WorkspaceStore;
  let editor: Person;
  beforeAll(async () => {
    app = await start();
  });
  afterAll(() => app.close());
  beforeEach(async () => {
    store = await newStore(app.sql);
    editor = await as("editor");
  });

  async function as(role: Role): Promise<Person> {
    return new Person(app, (await browser(app, store, role)).headers);
  }

  function locationOf(answer: Response): URL {
    expect(answer.status).toBe(303);
    return new URL(answer.headers.get("Location") ?? "", "http://localhost");
  }

  async function vanWithEntry() {
    const { id } = await store.vehicles.create(VAN, {
      charge_log: [{ date: "2024-05-01", cooling: "weak", added_g: 340, added_by: "cans", note: "First." }],
    });
    const [entry] = await store.chargeLog.list(id);
    return { id, path: `/vehicles/${id}`, entry: entry!, entry_path: `/vehicles/${id}/log/${entry!.id}` };
  }

  describe("keeping the quick question", () => {
    test("stores everything that was typed, and shows the vehicle", async () => {
      const at = locationOf(await editor.post("/vehicles", question()));
      expect(at.search).toBe("?saved=kept");
      const { vehicle, charge_log } = await store.record(at.pathname.split("/")[2]!);
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
      const page = textOf(await editor.page(`${at.pathname}${at.search}`));
      expect(page).toContain("The blue van");
      expect(page).toContain("9 July 2023");
      expect(page).toContain("12 oz added from cans");
      expect(page).toContain("Did the repair hold?");
    });

    test("takes a supposed place and quote along in the address, and records neither", async () => {
      const at = locationOf(await editor.post("/vehicles", question({ place: "hose", quote: "$1,250" })));
      expect(Object.fromEntries(at.searchParams)).toEqual({ place: "hose", quote: "$1,250", saved: "kept" });
      const page = await editor.page(`${at.pathname}${at.search}`);
      expect(page).toContain('value="$1,250"');
      expect(textOf(page)).toContain("This is a what-if with values that are not saved.");
    });

    test("a double click keeps it once", async () => {
      const [first, second] = await Promise.all([
        editor.post("/vehicles", question()),
        editor.post("/vehicles", question()),
      ]);
      expect(locationOf(second).pathname).toBe(locationOf(first).pathname);
      expect(await store.vehicles.count()).toBe(1);
    });

    test("gives back what cannot be kept, with all of it as it was typed", async () => {
      const wrong = question({ nameplate: "a lot", label: "x".repeat(121), quote: "cheap" });
      wrong.append("when", "31 Feb 2024");
      wrong.append("amount", "some");
      const answer = await editor.post("/vehicles", wrong);
      expect(answer.status).toBe(422);
      const page = await answer.text();
      for (const typed of ["a lot", "x".repeat(121), "cheap", "31 Feb 2024", "some", "9 Jul 2023", "1 lb 7 oz"])
        expect(page).toContain(`value="${typed}"`);
      const words = textOf(page);
      expect(words).toContain("things to put right");
      expect(words).toContain("There is no such day");
      expect(words).toContain("Keep to 120 characters: this is 1 too long");
      expect(await store.vehicles.count()).toBe(0);
    });

    test("without a name it gets one", async () => {
      await editor.post("/vehicles", question({ label: "  " }));
      await editor.post("/vehicles", question({ label: "", submit_key: "k2" }));
      const { items } = await store.vehicles.list();
      expect(items.map(({ label }) => label)).toEqual(["Vehicle 1", "Vehicle 2"]);
    });

    test("the first vehicle brings its units along, the second does not", async () => {
      await editor.post("/vehicles", question({ units: "metric", nameplate: "650 g" }));
      expect(await store.settings.get()).toMatchObject({ mass_unit: "g", temperature_unit: "C" });
      await editor.post("/vehicles", question({ submit_key: "k2" }));
      expect(await store.settings.get()).toMatchObject({ mass_unit: "g" });
    });

    test("someone without access gets records of their own, and a link that leads back", async () => {
      const answer = await new Person(app).post("/vehicles", question());
      expect(answer.status).toBe(201);
      expect(answer.headers.get("Cache-Control")).toBe("no-store");
      const page = await answer.text();
      const path = /href="(\/vehicles\/[0-9a-z]{20})"/.exec(page)?.[1] ?? "";
      const owner = new Person(app, { Cookie: cookieOf(answer) });
      expect(textOf(await owner.page(path))).toContain("The blue van");
      expect((await editor.get(path)).status).toBe(404);
      const link = /\/access\/[\w-]{43}/.exec(page)?.[0] ?? "";
      expect(textOf(await new Person(app).page(link))).toContain("on this device");
    });

    test("who may only look keeps nothing", async () => {
      expect((await (await as("viewer")).post("/vehicles", question())).status).toBe(403);
      expect(await store.vehicles.count()).toBe(0);
    });
  });

  describe("the list", () => {
    test("says what to do next while it is empty", async () => {
      const page = await editor.page("/vehicles");
      expect(textOf(page)).toContain("No vehicles yet.");
      expect(page).toContain('href="/"');
      expect(page).toContain('action="/vehicles/examples"');
    });

    test("shows each vehicle with its answer, next low date and leak", async () => {
      const at = locationOf(await editor.post("/vehicles", question()));
      const page = await editor.page("/vehicles");
      expect(page).toContain(`href="${at.pathname}"`);
      const words = textOf(page);
      expect(words).toMatch(/The blue van.*(Top it off|Leave it for now|Repair it|Dye test first)/);
      expect(words).toMatch(/oz a year/);
      expect(words).toMatch(
        /Low now|(January|February|March|April|May|June|July|August|September|October|November|December) 20\d\d/,
      );
    });

    test("finds words in names, groups and notes, whatever their case and accents", async () => {
      await store.vehicles.create({ ...VAN, label: "Été wagon" });
      await store.vehicles.create({ ...VAN, label: "Van 2" }, { notes: [{ body: "Smells of café" }] });
      const found = async (q: string) => {
        const page = textOf(await editor.page(`/vehicles?${new URLSearchParams({ q })}`));
        return ["Été wagon", "Van 2"].filter((label) => page.includes(label));
      };
      expect(await found("ete")).toEqual(["Été wagon"]);
      expect(await found("CAFE")).toEqual(["Van 2"]);
      expect(await found("wagon cafe")).toEqual([]);
      expect(textOf(await editor.page("/vehicles?q=nowhere"))).toContain("No match.");
    });

    test("goes on over pages without losing or repeating one", async () => {
      for (let i = 1; i <= 27; i++) await store.vehicles.create({ ...VAN, label: `Van ${i}` });
      const first = await editor.page("/vehicles");
      const next = decoded(/href="([^"]*)" rel="next"/.exec(first)?.[1] ?? "");
      const second = await editor.page(next);
      const labels = (page: string) => [...page.matchAll(/>(Van \d+)</g)].map(([, label]) => label);
      expect(labels(first)).toHaveLength(25);
      expect([...labels(first), ...labels(second)]).toEqual(Array.from({ length: 27 }, (_, i) => `Van ${i + 1}`));
      expect(second).toContain('href="/vehicles"');
      expect(textOf(first)).toContain("27 vehicles");
    });

    test("a page that is none of ours is refused in words", async () => {
      expect((await editor.get("/vehicles?after=%5B%22")).status).toBe(422);
    });

    test("keeps what is archived on a page of its own, from where it comes back", async () => {
      const { id, path } = await vanWithEntry();
      const form = { submit_key: "a1", version: "1" };
      expect(locationOf(await editor.post(`${path}/archive`, form)).search).toBe("?saved=archived");
      await editor.post(`${path}/archive`, form);
      expect(textOf(await editor.page("/vehicles"))).not.toContain("Van 2 R-134a");
      expect(textOf(await editor.page("/vehicles?archived=1"))).toContain("Van 2");
      expect(textOf(await editor.page(path))).toContain("Archived: it is off the list");
      await editor.post(`${path}/unarchive`, { submit_key: "a2", version: "2" });
      expect((await store.vehicles.get(id)).archived_at).toBeNull();
    });
  });

  describe("an entry of the charge log", () => {
    test("is added, corrected with the old line in sight, and the correction undone", async () => {
      const { id, path } = await vanWithEntry();
      const fresh = formIn(await editor.page(`${path}/log/new?added=10+oz&finish=low-side`), "record-form");
      expect(fresh.get("added")).toBe("10 oz");
      fresh.set("when", "14 Mar 2025");
      fresh.set("cooling", "weak");
      const saved = locationOf(await editor.post(`${path}/log`, fresh));
      const [, , line_id] = /log\.((\w+)\.1)$/.exec(saved.search) ?? [];
      const page = await editor.page(`${path}${saved.search}`);
      expect(textOf(page)).toContain("The entry was saved. Undo");
      expect(textOf(page)).toContain("14 March 2025 poorly 10 oz added from cans; level checked with a low-side gauge");

      const correction = formIn(await editor.page(`${path}/log/${line_id}`), "record-form");
      expect(correction.get("added")).toBe("10 oz");
      correction.set("added", "1 can");
      await editor.post(`${path}/log/${line_id}/corrections`, correction);
      const versions = textOf(await editor.page(`${path}/log/${line_id}`));
      expect(versions).toMatch(/Corrected .*12 oz added.*Added .*10 oz added/);

      await editor.post(`${path}/log/${line_id}/undos`, { version: "2", submit_key: "u" });
      const [, entry] = await store.chargeLog.list(id);
      expect(entry).toMatchObject({ id: line_id, version: 3, change: "restored" });
      expect(entry!.added_g).toBeCloseTo(10 * OUNCE_G, 6);
      const history = await editor.page(`${path}/log/history`);
      expect(textOf(history)).toMatch(/Restored .*Corrected .*Added/);
      expect(history.match(/>(?:Added|Corrected|Restored)</g)).toHaveLength(4);
    });

    test("sent back untouched changes nothing", async () => {
      const { path, entry, entry_path } = await vanWithEntry();
      const form = formIn(await editor.page(entry_path), "record-form");
      expect(locationOf(await editor.post(`${entry_path}/corrections`, form)).pathname).toBe(path);
      expect(await store.chargeLog.versions(entry.id)).toHaveLength(1);
    });

    test("is removed, and comes back", async () => {
      const { path, entry, entry_path } = await vanWithEntry();
      await editor.page(path);
      await editor.post(`${entry_path}/removals`, { version: "1", submit_key: "r" });
      const page = await editor.page(`${path}?saved=log.${entry.id}.2`);
      expect(textOf(page)).toContain("The entry was removed. Undo");
      expect(textOf(page)).toContain("No entries yet.");
      const line = await editor.page(entry_path);
      expect(textOf(line)).toContain("This entry was removed and no longer counts.");
      expect(textOf(line)).toContain("Restore it");
      await editor.post(`${entry_path}/undos`, { version: "2", submit_key: "p" });
      expect(textOf(await editor.page(path))).toContain("12 oz added from cans");
    });

    test("one press of a button, arriving twice, is stored once", async () => {
      const { id, path } = await vanWithEntry();
      const form = formIn(await editor.page(path), "look");
      form.set("cooling", "ok");
      const sent = await Promise.all([editor.post(`${path}/looks`, form), editor.post(`${path}/looks`, form)]);
      for (const { status } of sent) expect(status).toBe(303);
      expect(await store.chargeLog.list(id)).toHaveLength(2);
    });

    test("a look a day: the same again adds nothing, another takes its place, and can be undone", async () => {
      const { id, path } = await vanWithEntry();
      const look = async (cooling: string) => locationOf(await editor.post(`${path}/looks`, { cooling })).search;
      const looks = async () => (await store.chargeLog.list(id)).slice(1).map(({ cooling }) => cooling);
      await look("weak");
      expect(await editor.page(path)).toMatch(/value="weak" aria-pressed="true"/);
      expect(await look("weak")).toBe("?saved=same");
      expect(await looks()).toEqual(["weak"]);
      const saved = await look("short-cycling");
      expect(await looks()).toEqual(["short-cycling"]);
      expect(textOf(await editor.page(`${path}${saved}`))).toContain("The entry was corrected. Undo");
      expect((await editor.post(`${path}/looks`, { cooling: "lukewarm" })).status).toBe(400);
    });

    test("a look that contradicts one of the last days is asked about before it counts", async () => {
      const { id, path } = await vanWithEntry();
      await editor.post(`${path}/looks`, { cooling: "weak" });
      // As if it had been three days ago, whatever day the runtime believes it is.
      const look = (await store.chargeLog.list(id)).at(-1)!;
      const before = isoFromDay(dayNumber(look.date) - 3);
      await store.chargeLog.correct(look.id, look.version, { date: before, cooling: "weak" });
      const asked = await editor.post(`${path}/looks`, { cooling: "ok" });
      expect(asked.status).toBe(409);
      expect(textOf(await asked.text())).toContain("Nothing was added or repaired since");
      const count = (await store.chargeLog.list(id)).length;
      await editor.post(`${path}/looks`, { cooling: "ok", sure: "yes" });
      expect(await store.chargeLog.list(id)).toHaveLength(count + 1);
    });

    test("the form of a page that was gone back to does not store a second entry in place of the first", async () => {
      const { id, path } = await vanWithEntry();
      const form = formIn(await editor.page(`${path}/log/new`), "record-form");
      form.set("when", "2 Feb 2025");
      form.set("cooling", "ok");
      await editor.post(`${path}/log`, form);
      form.set("cooling", "weak");
      const answer = await editor.post(`${path}/log`, form);
      expect(answer.status).toBe(409);
      const page = await answer.text();
      expect(textOf(page)).toMatch(/What is saved now .*cooled well.*Save as another entry/);
      const again = formIn(page, "record-form");
      expect(again.get("cooling")).toBe("weak");
      await editor.post(`${path}/log`, again);
      expect((await store.chargeLog.list(id)).map(({ cooling }) => cooling)).toEqual(["weak", "ok", "weak"]);
    });

    test("of two tabs, the second is told, loses nothing and can apply its change again", async () => {
      const { path, entry, entry_path } = await vanWithEntry();
      const [first, second] = [
        formIn(await editor.page(entry_path), "record-form"),
        formIn(await editor.page(entry_path), "record-form"),
      ];
      first.set("added", "8 oz");
      await editor.post(`${entry_path}/corrections`, first);
      second.set("added", "9 oz");
      second.set("note", "Mine: two\nlines");
      const answer = await editor.post(`${entry_path}/corrections`, second);
      expect(answer.status).toBe(409);
      const page = await answer.text();
      expect(textOf(page)).toMatch(/Not saved yet .*What is saved now .*8 oz added.*Replace it with mine/);
      const again = formIn(page, "record-form");
      expect([again.get("added"), again.get("note"), again.get("version")]).toEqual(["9 oz", "Mine: two\nlines", "2"]);
      await editor.post(`${entry_path}/corrections`, again);
      const newest = await store.chargeLog.get(entry.id);
      expect(newest).toMatchObject({ version: 3, note: "Mine: two\nlines" });
      expect(newest.added_g).toBeCloseTo(9 * OUNCE_G, 6);
      expect(textOf(await editor.page(path))).toContain("9 oz added");
    });

    test("removed in another tab, what was typed can be saved as a new one", async () => {
      const { id, entry, entry_path } = await vanWithEntry();
      const form = formIn(await editor.page(entry_path), "record-form");
      await store.chargeLog.remove(entry.id, 1);
      form.set("added", "9 oz");
      const answer = await editor.post(`${entry_path}/corrections`, form);
      expect(answer.status).toBe(409);
      const page = await answer.text();
      expect(textOf(page)).toContain("Save as a new entry");
      const action = /id="record-form"[^>]*action="([^"]*)"/.exec(page)?.[1];
      expect(action).toBe(`/vehicles/${id}/log`);
      await editor.post(action!, formIn(page, "record-form"));
      expect(await store.chargeLog.list(id)).toHaveLength(1);
    });

    test("an undo that was overtaken changes nothing", async () => {
      const { entry, entry_path } = await vanWithEntry();
      await store.chargeLog.correct(entry.id, 1, { date: "2024-05-02", cooling: "ok" });
      expect((await editor.post(`${entry_path}/undos`, { version: "1", submit_key: "u" })).status).toBe(409);
      expect(await store.chargeLog.versions(entry.id)).toHaveLength(2);
    });

    test.each([
      ["when", "", "Enter when it was"],
      ["when", "31 Feb 2024", "There is no such day"],
      ["when", "03/04/2025", "can be"],
      ["when", "1 Jan 2099", "That is in the future"],
      ["when", "1 Jan 1970", "Enter a date of the last 40 years"],
      ["when", "sometime", "Enter a date, like"],
      ["added", "lots", "Enter the amount, like 12 oz or 340 g"],
      ["added", "-3 oz", "Enter 0 or more"],
      ["added", "1,250 g", "without a thousands sign"],
      ["added", "5 kg", "more than three nameplate charges"],
      ["recovered", "🧊", "Enter the amount"],
      ["cooling", "cold", "Choose how it cooled"],
      ["repair", "roof", "Choose the repaired location"],
      ["note", "x".repeat(2001), "Keep to 2,000 characters: this is 1 too long"],
    ])("%s put wrong (%.20s) is given back with a message at the field and on top", async (field, typed, message) => {
      const { id, path } = await vanWithEntry();
      const form = formIn(await editor.page(`${path}/log/new`), "record-form");
      form.set("when", "2 Feb 2025");
      form.set("added", "12 oz");
      form.set("note", "Kept <b>as it is</b>");
      form.set(field, typed);
      const answer = await editor.post(`${path}/log`, form);
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
      expect(await store.chargeLog.list(id)).toHaveLength(1);
    });

    test("that says nothing is asked to say something", async () => {
      const { path } = await vanWithEntry();
      const form = formIn(await editor.page(`${path}/log/new`), "record-form");
      const answer = await editor.post(`${path}/log`, form);
      expect(answer.status).toBe(422);
      expect(textOf(await answer.text())).toContain("Choose how it cooled, or enter what was done");
    });
  });

  describe("notes", () => {
    test.each(HARD_TEXTS)("keep %j as it was written", async (body) => {
      const { id, path } = await vanWithEntry();
      const form = formIn(await editor.page(`${path}/notes/new`), "record-form");
      form.set("body", body);
      await editor.post(`${path}/notes`, form);
      const page = await editor.page(path);
      expect(decoded(page)).toContain(`<p class="written" dir="auto">${body}</p>`);
      expect((await store.notes.list(id)).map((note) => note.body)).toEqual([body]);
    });

    test("of 20,000 signs are kept and folded; a sign more is given back whole", async () => {
      const { id, path } = await vanWithEntry();
      const form = formIn(await editor.page(`${path}/notes/new`), "record-form");
      const long = `${"The compressor hums. ".repeat(951)}${"👩🏽‍🔧".repeat(7)}!`.slice(0, 20_000 - 1);
      form.set("body", `${long}xx`);
      expect([...`${long}xx`].length).toBeGreaterThan(19_900);
      form.set("body", "y".repeat(20_001));
      const refused = await editor.post(`${path}/notes`, form);
      expect(refused.status).toBe(422);
      expect(formIn(await refused.text(), "record-form").get("body")).toBe("y".repeat(20_001));
      form.set("body", "y".repeat(20_000));
      await editor.post(`${path}/notes`, form);
      expect((await store.notes.list(id))[0]!.body).toHaveLength(20_000);
      const page = await editor.page(path);
      expect(page).toContain('<details class="long-note">');
      expect(textOf(page)).toContain("(20,000 characters)");
    });
  });

  describe("findings", () => {
    test("show the belief by place before and after each", async () => {
      const { path } = await vanWithEntry();
      for (const [location, result] of [
        ["anywhere", ""],
        ["hose", "leak"],
      ] as const) {
        const form = formIn(await editor.page(`${path}/findings/new`), "record-form");
        form.set("when", "2 Feb 2025");
        form.set("test", "electronic");
        form.set("location", location);
        if (result !== "") form.set("result", result);
        expect((await editor.post(`${path}/findings`, form)).status).toBe(303);
      }
      const page = await editor.page(path);
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
      expect(textOf(page)).toContain("Electronic test: leak at a hose");
    });

    test("a leak needs a place", async () => {
      const { path } = await vanWithEntry();
      const form = formIn(await editor.page(`${path}/findings/new`), "record-form");
      form.set("location", "anywhere");
      form.set("result", "leak");
      const answer = await editor.post(`${path}/findings`, form);
      expect(answer.status).toBe(422);
      const words = textOf(await answer.text());
      expect(words).toContain("Choose the test");
      expect(words).toContain("Choose the place where the leak was seen");
    });
  });

  describe("what-ifs", () => {
    test("change the answer and not the record, and stand in the address", async () => {
      const { path } = await vanWithEntry();
      const fragment = await editor.get(`${path}?keep=12&service=shop&carbon=&quote=`, {
        "HX-Request": "true",
        "HX-Current-URL": `http://localhost${path}`,
      });
      expect(fragment.headers.get("HX-Push-Url")).toBe(`${path}?keep=12&service=shop`);
      const part = await fragment.text();
      expect(part).not.toContain("<html");
      expect(part).toContain('<div id="record-log" hx-morph-skip=""></div>');
      expect(textOf(part)).toMatch(/Over 12 years/);
      const whole = await editor.page(`${path}?keep=12&service=shop`);
      expect(textOf(whole)).toMatch(/Over 12 years/);
      expect(whole).toContain('<input type="hidden" name="keep" value="12"');
      expect(textOf(await editor.page(path))).toMatch(/Over 5 years/);
    });

    test("going back in history asks for the whole page", async () => {
      const { path } = await vanWithEntry();
      const headers = { "HX-Request": "true", "HX-History-Restore-Request": "true" };
      expect(await (await editor.get(`${path}?keep=12`, headers)).text()).toContain("<html");
    });

    test.each([
      ["keep", "99", "from 0.25 to 20"],
      ["quote", "a lot", "Enter the quote in money"],
      ["carbon", "99999", "from 0 to 10,000"],
    ])("%s=%s is put right at its field", async (field, typed, message) => {
      const { path } = await vanWithEntry();
      const answer = await editor.get(`${path}?${new URLSearchParams({ [field]: typed })}`);
      expect(answer.status).toBe(422);
      const page = await answer.text();
      expect(textOf(page)).toContain(message);
      expect(textOf(page)).toContain("12 oz added from cans");
    });

    test("the sensitivity comes later, as a part or as a page of its own", async () => {
      const { path } = await vanWithEntry();
      expect(await editor.page(path)).toContain(`hx-get="${path}/sensitivity"`);
      const part = await (await editor.get(`${path}/sensitivity`, { "HX-Request": "true" })).text();
      expect(part).toMatch(/^<figure class="chart" id="sensitivity"/);
      expect(textOf(await editor.page(`${path}/sensitivity?keep=2`))).toContain("What would change the answer");
    });
  });

  describe("details", () => {
    test("are edited, with what differs from the usual only", async () => {
      const { id, path } = await vanWithEntry();
      const form = formIn(await editor.page(`${path}/details`), "details-form");
      form.set("label", "مكيف 🚐");
      form.set("nameplate", "1 lb 9 oz");
      form.set("fleet_group", "Vans");
      form.set("plan.keep_years", "3");
      form.set("plan.tools_owned", "yes");
      form.set("prices.can_price", "14.50");
      form.set("prices.locations.hose.price", "1,250");
      form.set("assumptions.heel", "0,2");
      expect(locationOf(await editor.post(`${path}/details`, form)).search).toBe("?saved=details");
      expect(await store.vehicles.get(id)).toMatchObject({
        label: "مكيف 🚐",
        fleet_group: "Vans",
        plan: { keep_years: 3, tools_owned: true },
        prices: { can_price: 14.5, locations: { hose: { price: 1250 } } },
        assumptions: { heel: 0.2 },
      });
      const again = formIn(await editor.page(`${path}/details`), "details-form");
      expect(again.get("nameplate")).toBe("25 oz");
      for (const name of ["plan.keep_years", "prices.can_price", "prices.locations.hose.price", "assumptions.heel"])
        again.set(name, "");
      again.set("plan.tools_owned", "");
      await editor.post(`${path}/details`, again);
      const { plan, prices, assumptions } = await store.vehicles.get(id);
      expect([plan, prices, assumptions]).toEqual([{}, { locations: { hose: {} } }, {}]);
    });

    test.each([
      ["label", "", "Give it a name"],
      ["nameplate", "3 oz", "between 100 g"],
      ["nameplate", "100 g", "more than three of these charges"],
      ["plan.keep_years", "50", "from 0.25 to 20"],
      ["prices.can_price", "cheap", "Enter a number"],
      ["system_volume", "0", "Enter the volume in mL"],
    ])("with %s “%s” are given back", async (field, typed, message) => {
      const { path } = await vanWithEntry();
      const form = formIn(await editor.page(`${path}/details`), "details-form");
      form.set("depot", "North yard");
      form.set(field, typed);
      const answer = await editor.post(`${path}/details`, form);
      expect(answer.status).toBe(422);
      const page = await answer.text();
      expect(textOf(/id="error-summary"[\s\S]*?<\/div>/.exec(page)?.[0] ?? "")).toContain(message);
      const back = formIn(page, "details-form");
      expect([back.get(field), back.get("depot")]).toEqual([typed, "North yard"]);
    });

    test("of two tabs, the second sees what differs and can save its own", async () => {
      const { id, path } = await vanWithEntry();
      const [first, second] = [
        formIn(await editor.page(`${path}/details`), "details-form"),
        formIn(await editor.page(`${path}/details`), "details-form"),
      ];
      first.set("label", "Theirs");
      await editor.post(`${path}/details`, first);
      second.set("label", "Mine");
      const answer = await editor.post(`${path}/details`, second);
      expect(answer.status).toBe(409);
      const page = await answer.text();
      expect(textOf(page)).toContain("Name Theirs Mine");
      await editor.post(`${path}/details`, formIn(page, "details-form"));
      expect((await store.vehicles.get(id)).label).toBe("Mine");
    });

    test("a vehicle is entered without the quick question", async () => {
      const form = formIn(await editor.page("/vehicles/new"), "details-form");
      form.set("label", "Bare");
      form.set("nameplate", "650 g");
      const at = locationOf(await editor.post("/vehicles/new", form));
      expect(textOf(await editor.page(at.pathname))).toContain("No entries yet.");
    });
  });

  describe("the examples", () => {
    test("load with one button, are marked, and go with one button, leaving the rest", async () => {
      const { id } = await vanWithEntry();
      const submit = { submit_key: "e1" };
      const [first] = await Promise.all([
        editor.post("/vehicles/examples", submit),
        editor.post("/vehicles/examples", submit),
      ]);
      expect(locationOf(first).search).toBe("?examples=loaded");
      const { items } = await store.vehicles.list();
      const examples = items.filter(({ example }) => example);
      expect(examples.length).toBeGreaterThanOrEqual(5);
      expect(new Set(examples.map(({ label }) => label)).size).toBe(examples.length);
      const page = await editor.page("/vehicles");
      expect(page.match(/<span class="tag">sample<\/span>/g)).toHaveLength(examples.length);
      for (const example of examples) {
        const shown = textOf(await editor.page(`/vehicles/${example.id}`));
        expect(shown).toContain("Sample vehicle.");
      }
      expect(locationOf(await editor.post("/vehicles/examples/removal")).search).toBe("?examples=removed");
      expect((await store.vehicles.list()).items.map((vehicle) => vehicle.id)).toEqual([id]);
      expect(await store.vehicles.count({ archived: true })).toBe(0);
    });
  });

  describe("who may see and change what", () => {
    test("a viewer sees everything and is offered no change", async () => {
      const { path, entry_path } = await vanWithEntry();
      const viewer = await as("viewer");
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
      const { path, entry, entry_path } = await vanWithEntry();
      store = await newStore(app.sql);
      const stranger = await as("owner");
      for (const address of [path, entry_path, `${path}/details`, `${path}/log/new`, `${path}/log/history`])
        expect((await stranger.get(address)).status, address).toBe(404);
      const mine = await vanWithEntry();
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
      const [one, other] = [await vanWithEntry(), await vanWithEntry()];
      expect((await editor.get(`${one.path}/log/${other.entry.id}`)).status).toBe(404);
      const change = { version: "1", submit_key: "x" };
      expect((await editor.post(`${one.path}/log/${other.entry.id}/removals`, change)).status).toBe(404);
      expect(await store.chargeLog.versions(other.entry.id)).toHaveLength(1);
    });
  });

  describe("a page that is kept in memory", () => {
    test("is never older than the record, and no two copies share a key", async () => {
      const { id, path } = await vanWithEntry();
      const key = (page: string) => formIn(page, "look").get("submit_key");
      const [first, second] = [await editor.page(path), await editor.page(path)];
      expect(key(first)).not.toBe(key(second));
      expect(second.replaceAll(key(second)!.slice(0, 20), "")).toBe(first.replaceAll(key(first)!.slice(0, 20), ""));
      await store.chargeLog.add(id, { date: "2025-05-05", cooling: "weak" });
      expect(textOf(await editor.page(path))).toContain("5 May 2025");
      await store.notes.add(id, { body: "Seen at once" });
      expect(textOf(await editor.page(path))).toContain("Seen at once");
    });

    test("is made anew for someone with another role", async () => {
      const { path } = await vanWithEntry();
      expect(await editor.page(path)).toContain('id="look"');
      expect(await (await as("viewer")).page(path)).not.toContain('id="look"');
    });
  });
});
