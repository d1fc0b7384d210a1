import { describe, expect, test } from "vitest";
import { RETAIL_BOOK } from "../../../data/price-book.ts";
import { BLANK_LETTERHEAD } from "../../../src/core/quotes/quote-document.ts";
import { parseWorkspaceDocument } from "../../../src/web/schemas/transfer-schema.ts";
import { CONTENT, SNAPSHOT } from "../../store/quote-samples.ts";

/** A whole document, as small as it can be with one of everything. Fresh each time, for a test to spoil. */
function aDocument() {
  const at = "2026-05-01T12:00:00.000Z";
  const changed = { version: 1, updated_at: at, updated_by: "local" };
  const made = { ...changed, created_at: at };
  const own = { plan: {}, prices: {}, assumptions: {}, climate: null, monthly_mean_c: null };
  const head = { version: 1, change: "added", vehicle_id: "v1", number: 1, recorded_at: at, recorded_by: "local" };
  const settings = { mass_unit: "oz", temperature_unit: "F", pressure_unit: "psi-gauge", currency: "USD" };
  return {
    format: "seepwise-workspace",
    version: 12,
    exported_at: at,
    workspace: { workspace_id: "local", name: "Mine", ...settings, place: null, time_zone: "UTC", ...own, ...made },
    vehicles: [
      {
        id: "v1",
        label: "Van 2",
        refrigerant: "R-134a",
        nameplate_g: 650,
        system_volume_ml: null,
        electric_compressor: false,
        dye_in_own_oil: null,
        kind: null,
        fleet_group: null,
        depot: null,
        model_year: null,
        odometer: null,
        ...own,
        example: false,
        archived_at: null,
        ...made,
        created_by: "local",
      },
    ],
    charge_log: [
      {
        ...head,
        id: "e1",
        date: "2026-04-20",
        date_within_days: null,
        cooling: "weak",
        recovered_g: null,
        added_g: 340,
        added_by: "cans",
        finish: null,
        repair: null,
        dye: null,
        cooling_after: null,
        cans_opened: 1,
        deposit: 10,
        deposit_return_by: "2026-07-19",
        note: null,
      },
    ],
    findings: [{ ...head, id: "f1", date: "2026-04-20", test: "dye", location: "hose", result: "leak", note: null }],
    readings: [
      {
        ...head,
        id: "r1",
        date: "2026-04-20",
        ambient_c: 29.5,
        humidity_percent: null,
        altitude_m: 1600,
        static_kpa: null,
        low_kpa: 204.7,
        high_kpa: 928.7,
        engine_rpm: null,
        vent_c: null,
        clutch: "cycles-fast",
        fan: null,
        condenser: null,
        more_air: null,
        suction_line_c: 12.5,
        liquid_line_c: null,
        equalizing_s: null,
        sight_glass: "bubbles",
        metering: "valve",
        compressor: null,
        note: null,
      },
    ],
    notes: [{ ...head, id: "n1", body: "hello" }],
    price_books: [
      { id: "retail", book: structuredClone(RETAIL_BOOK), archived_at: null, ...made, created_by: "local" },
    ],
    letterhead: { letterhead: { ...BLANK_LETTERHEAD, shop: "North Yard" }, ...changed },
    quotes: [
      {
        id: "q1",
        vehicle_id: "v1",
        number: 1,
        status: "accepted",
        content: structuredClone(CONTENT),
        replaces: null,
        snapshot: structuredClone(SNAPSHOT),
        valid_until: "2026-05-31",
        sent_at: at,
        sent_by: "local",
        decided_at: at,
        decided_name: "Robin Ames",
        decided_option: "b",
        decided_keep_years: 6,
        decided_how: null,
        decided_by: null,
        earlier_answers: null,
        agreed: null,
        withdrawn_at: null,
        withdrawn_by: null,
        work: { date: "2026-05-02", option: "b", follow_up_on: null },
        work_at: at,
        work_by: "local",
        ...made,
        created_by: "local",
      },
    ],
    customers: [],
    vehicle_particulars: [],
    invoices: [],
    payments: [],
    cylinders: [],
    cylinder_moves: [],
    refrigerant_work: [],
    follow_ups_closed: [],
    fleet_names: [{ source_key: "van 2", vehicle_id: "v1" }],
    fleet_locks: [{ vehicle_id: "v1", repair: "must", year: null }],
    fleet_plans: [],
    fleet_orders: [],
    fleet_closed_years: [],
    fleet_closed_rows: [],
    fleet_terms: [],
    fleet_logged: [],
    external_ids: [],
    imports: [],
    import_rows: [],
    entry_orders: [],
    import_mappings: [],
  };
}

function paths(value: unknown): string[] {
  const parsed = parseWorkspaceDocument(value);
  return parsed.ok ? [] : parsed.issues.map(({ path }) => path);
}

test("a whole document is taken as it is", () => {
  expect(parseWorkspaceDocument(aDocument())).toEqual({ ok: true, document: aDocument() });
});

test("a document of version 1, which ended with the notes, is taken as one without the rest", () => {
  const whole = aDocument();
  const { format, exported_at, workspace, vehicles, charge_log, findings, readings, notes } = whole;
  const records = { format, exported_at, workspace, vehicles, charge_log, findings, readings, notes };
  const rest = Object.fromEntries(
    Object.keys(whole)
      .filter((name) => name !== "version" && !(name in records))
      .map((name) => [name, name === "letterhead" ? null : []]),
  );
  expect(parseWorkspaceDocument({ ...records, version: 1 })).toEqual({
    ok: true,
    document: { ...records, ...rest, version: 12 },
  });
  expect(paths({ ...records, version: 12 })).toContain("quotes");
});

test("an entry of version 6, which knew single days only, is of that day; a vague one is taken as it is", () => {
  const document = aDocument();
  const days = document.charge_log.map(({ date_within_days: _, ...before }) => before);
  expect(parseWorkspaceDocument({ ...document, charge_log: days, version: 6 })).toEqual({ ok: true, document });
  expect(paths({ ...document, charge_log: days })).toEqual(["charge_log.0.date_within_days"]);
  const vague = document.charge_log.map((line) => ({ ...line, date_within_days: 46 }));
  const read = parseWorkspaceDocument({ ...document, charge_log: vague });
  expect(read.ok && read.document.charge_log.map(({ date_within_days }) => date_within_days)).toEqual([46]);
  const never = document.charge_log.map((line) => ({ ...line, date_within_days: 0.5 }));
  expect(paths({ ...document, charge_log: never })).toEqual(["charge_log.0.date_within_days"]);
});

test("a vehicle of version 4, of which nobody had said what it is, is taken as one of which nobody says it", () => {
  const document = aDocument();
  const vehicles = document.vehicles.map(({ kind: _, dye_in_own_oil: __, ...before }) => before);
  expect(parseWorkspaceDocument({ ...document, vehicles, version: 4 })).toEqual({ ok: true, document });
  expect(paths({ ...document, vehicles })).toEqual(["vehicles.0.dye_in_own_oil", "vehicles.0.kind"]);
});

test("a vehicle of version 11, which had no model year and no odometer, is taken as one of which nobody said them", () => {
  const document = aDocument();
  const vehicles = document.vehicles.map(({ model_year: _, odometer: __, ...before }) => before);
  expect(parseWorkspaceDocument({ ...document, vehicles, version: 11 })).toEqual({ ok: true, document });
  expect(paths({ ...document, vehicles })).toEqual(["vehicles.0.model_year", "vehicles.0.odometer"]);
  const later = document.vehicles.map((one) => ({
    ...one,
    model_year: 2019,
    odometer: { km: 12.5, on: "2026-04-02" },
  }));
  expect(parseWorkspaceDocument({ ...document, vehicles: later })).toMatchObject({ ok: true });
  const never = document.vehicles.map((one) => ({ ...one, model_year: 1.5, odometer: { km: -1, on: "soon" } }));
  expect(paths({ ...document, vehicles: never })).toEqual([
    "vehicles.0.model_year",
    "vehicles.0.odometer.km",
    "vehicles.0.odometer.on",
  ]);
});

test("a price book of version 3, which did not say its currency, is in that of its workspace", () => {
  const document = aDocument();
  const without = document.price_books.map((one) => {
    const { currency, ...book } = one.book;
    return { ...one, book };
  });
  const workspace = { ...document.workspace, currency: "EUR" };
  const read = parseWorkspaceDocument({ ...document, workspace, price_books: without, version: 3 });
  expect(read).toMatchObject({ ok: true, document: { version: 12 } });
  expect(read.ok && read.document.price_books.map(({ book }) => book.currency)).toEqual(["EUR"]);
});

describe("refuses, and says where", () => {
  type Spoil = (document: ReturnType<typeof aDocument>) => unknown;
  const set =
    (change: (document: ReturnType<typeof aDocument>) => void): Spoil =>
    (document) => {
      change(document);
      return document;
    };

  test.each<[string, Spoil, string]>([
    ["something else", () => "hello", ""],
    ["another format", (document) => ({ ...document, format: "other" }), "format"],
    ["a newer version", (document) => ({ ...document, version: 13 }), "version"],
    ["a field of our making", (document) => ({ ...document, more: 1 }), "more"],
    ["a missing part", ({ notes: _, ...document }) => document, "notes"],
    [
      "a vehicle without a label",
      set(({ vehicles }) => Object.assign(vehicles[0]!, { label: "" })),
      "vehicles.0.label",
    ],
    [
      "an unknown refrigerant",
      set(({ vehicles }) => Object.assign(vehicles[0]!, { refrigerant: "R-1" })),
      "vehicles.0.refrigerant",
    ],
    [
      "prices out of range",
      set(({ vehicles }) => Object.assign(vehicles[0]!, { prices: { can_price: -1 } })),
      "vehicles.0.prices.can_price",
    ],
    ["an unknown price", set(({ workspace }) => Object.assign(workspace, { prices: { a: 1 } })), "workspace.prices.a"],
    ["an id with a space", set(({ vehicles }) => Object.assign(vehicles[0]!, { id: "v 1" })), "vehicles.0.id"],
    [
      "a day that is none",
      set(({ charge_log }) => Object.assign(charge_log[0]!, { date: "2026-02-30" })),
      "charge_log.0.date",
    ],
    [
      "an amount below nothing",
      set(({ charge_log }) => Object.assign(charge_log[0]!, { added_g: -1 })),
      "charge_log.0.added_g",
    ],
    [
      "a field left out",
      set(({ charge_log }) => Object.assign(charge_log[0]!, { note: undefined })),
      "charge_log.0.note",
    ],
    [
      "a leak anywhere",
      set(({ findings }) => Object.assign(findings[0]!, { location: "anywhere" })),
      "findings.0.location",
    ],
    ["an empty note", set(({ notes }) => Object.assign(notes[0]!, { body: "" })), "notes.0.body"],
    [
      "a note over its limit",
      set(({ notes }) => Object.assign(notes[0]!, { body: "x".repeat(20_001) })),
      "notes.0.body",
    ],
    ["two vehicles of one id", set(({ vehicles }) => vehicles.push(vehicles[0]!)), "vehicles.1.id"],
    [
      "a line of a vehicle that is not there",
      set(({ notes }) => Object.assign(notes[0]!, { vehicle_id: "v2" })),
      "notes.0.vehicle_id",
    ],
    [
      "a price below nothing",
      set(({ price_books }) => Object.assign(price_books[0]!.book, { dye_micro: -1 })),
      "price_books.0.book.dye_micro",
    ],
    ["two price books of one id", set(({ price_books }) => price_books.push(price_books[0]!)), "price_books.1.id"],
    [
      "an unknown way to write amounts",
      set(({ letterhead }) => Object.assign(letterhead.letterhead, { number_format: "1" })),
      "letterhead.letterhead.number_format",
    ],
    [
      "a customer's link",
      set(({ quotes }) => Object.assign(quotes[0]!, { token_hash: "0".repeat(64) })),
      "quotes.0.token_hash",
    ],
    ["a draft that was sent", set(({ quotes }) => Object.assign(quotes[0]!, { status: "draft" })), "quotes.0.snapshot"],
    [
      "a sent quote without what was sent",
      set(({ quotes }) => Object.assign(quotes[0]!, { snapshot: null })),
      "quotes.0.snapshot",
    ],
    ["a yes without a day", set(({ quotes }) => Object.assign(quotes[0]!, { decided_at: null })), "quotes.0.status"],
    [
      "a yes to what was not offered",
      set(({ quotes }) => Object.assign(quotes[0]!, { decided_option: "z" })),
      "quotes.0.decided_option",
    ],
    ["work without a day", set(({ quotes }) => Object.assign(quotes[0]!, { work_at: null })), "quotes.0.work"],
    [
      "a discount above the price",
      set(({ quotes }) =>
        Object.assign(quotes[0]!.snapshot.options[1]!, { discount: { kind: "amount", amount_minor: 99_999_999 } }),
      ),
      "quotes.0.snapshot.options.1",
    ],
    ["two quotes of one number", set(({ quotes }) => quotes.push({ ...quotes[0]!, id: "q2" })), "quotes.1.number"],
    [
      "a quote for a vehicle that is not there",
      set(({ quotes }) => Object.assign(quotes[0]!, { vehicle_id: "v2" })),
      "quotes.0.vehicle_id",
    ],
    [
      "a choice about a vehicle that is not there",
      set(({ fleet_locks }) => Object.assign(fleet_locks[0]!, { vehicle_id: "v2" })),
      "fleet_locks.0.vehicle_id",
    ],
    ["a line without its predecessor", set(({ notes }) => Object.assign(notes[0]!, { version: 2 })), "notes.0.version"],
    ["the same line twice", set(({ notes }) => notes.push({ ...notes[0]! })), "notes.1.version"],
    [
      "an entry that changes its vehicle",
      set(({ vehicles, notes }) => {
        vehicles.push({ ...vehicles[0]!, id: "v2" });
        notes.push({ ...notes[0]!, version: 2, vehicle_id: "v2" });
      }),
      "notes.1.vehicle_id",
    ],
  ])("%s", (_what, spoil, path) => {
    expect(paths(spoil(aDocument()))).toContain(path);
  });

  test("at most a hundred times", () => {
    const document = aDocument();
    const notes = Array.from({ length: 500 }, (_, i) => ({ ...document.notes[0]!, id: `n${i}`, body: "" }));
    expect(paths({ ...document, notes })).toHaveLength(100);
  });
});

describe("a file that is wrong throughout", () => {
  test("is refused after the first hundred, before there is an issue for each", () => {
    const parsed = parseWorkspaceDocument({ ...aDocument(), vehicles: Array.from({ length: 2_000_000 }, () => 0) });
    if (parsed.ok) throw new Error("It was taken");
    expect(parsed.issues).toHaveLength(100);
    expect(parsed.issues[0]).toMatchObject({ path: "vehicles.0" });
  });

  test.each(["Sometime", "Nowhere/Town", "UTC\u0000"])(
    "a time zone of %j is refused: every page would fail with it",
    (time_zone) => {
      const document = aDocument();
      const parsed = parseWorkspaceDocument({ ...document, workspace: { ...document.workspace, time_zone } });
      expect(parsed).toMatchObject({ ok: false, issues: [{ path: "workspace.time_zone" }] });
    },
  );

  test("a text of nothing that can be kept is refused", () => {
    const document = aDocument();
    const vehicles = document.vehicles.map((vehicle) => ({ ...vehicle, label: "\u0000\u0000" }));
    expect(parseWorkspaceDocument({ ...document, vehicles })).toMatchObject({
      ok: false,
      issues: [{ path: "vehicles.0.label" }],
    });
  });
});
