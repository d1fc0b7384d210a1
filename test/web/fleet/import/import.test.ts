import { describe, expect, test } from "vitest";
import { decodedText } from "../../../../src/web/fleet/import/csv-text.ts";
import { readFleetFiles } from "../../../../src/web/fleet/import/reading.ts";
import { fileOf, inPieces, readingOf, TODAY } from "./files.ts";

const EVENTS = [
  "vehicle,refrigerant,nameplate (g),group,depot,date,cooling,added (oz),added by,finish,note",
  "Van 1,R-134a,850,Large vans,North yard,2025-06-01,weak,12,cans,low-side,order 1",
  "Van 1,,,,,2026-04-20,weak,10,cans,low-side,",
  'Van 2,R134a,850,Large vans,"Yard, south",2026-04-21,weak,0,,,"said ""warm"""',
].join("\n");

const latin1 = (text: string) => Uint8Array.from(text, (letter) => letter.charCodeAt(0));
const utf16le = (text: string) => new Uint8Array(Uint16Array.from(text, (letter) => letter.charCodeAt(0)).buffer);

describe("a file in our own format", () => {
  test("is read without a question", async () => {
    const { questions } = await fileOf(EVENTS);
    expect(questions).toEqual([]);
    const { vehicles, good, mended, refused } = await readingOf(EVENTS);
    expect(refused).toEqual([]);
    expect(good).toBe(2);
    expect(mended).toEqual([
      { file: 0, row: 4, mends: [{ field: "refrigerant", cell: "R134a", how: "read as R-134a" }] },
    ]);
    expect(vehicles).toMatchObject([
      {
        label: "Van 1",
        refrigerant: "R-134a",
        nameplate_g: 850,
        fleet_group: "Large vans",
        depot: "North yard",
        entries: [
          // 12 oz = 340.19 g, 10 oz = 283.50 g (NIST SP 811: 28.349 523 g an ounce).
          { date: "2025-06-01", cooling: "weak", added_by: "cans", finish: "low-side", note: "order 1" },
          { date: "2026-04-20", cooling: "weak", note: null },
        ],
      },
      { label: "Van 2", depot: "Yard, south", entries: [{ added_g: 0, note: 'said "warm"' }] },
    ]);
    expect(vehicles[0]!.entries[0]!.added_g).toBeCloseTo(340.194, 3);
    expect(vehicles[0]!.entries[1]!.added_g).toBeCloseTo(283.495, 3);
  });

  test("may be two files, joined by the vehicle", async () => {
    const one = await fileOf(
      "vehicle;refrigerant;nameplate g\nVan 1;R-134a;850\nVan 2;R-134a;850\n",
      {},
      "vehicles.csv",
    );
    const two = await fileOf("Vehicle;Date;Added (g)\nvan  1;2026-04-01;300\nVan 3;2026-04-01;300\n", {}, "events.csv");
    const reading = await readFleetFiles([one.file, two.file], [], { today: TODAY, can_net_g: null });
    expect(reading.vehicles.map(({ label, entries }) => [label, entries.length])).toEqual([
      ["Van 1", 1],
      ["Van 2", 0],
    ]);
    expect(reading.refused).toMatchObject([
      {
        file: 1,
        row: 3,
        faults: [{ field: "vehicle", cell: "Van 3", why: expect.stringContaining("no such vehicle here yet") }],
      },
    ]);
  });
});

describe("ways of writing a file", () => {
  const plain = "vehicle,refrigerant,nameplate_g,depot\nVan 1,R-134a,850,Süd\n";
  const south = "S\u00fcd";

  test.each([
    ["UTF-8", new TextEncoder().encode(plain), "utf-8"],
    ["UTF-8 with a mark", new TextEncoder().encode(`\ufeff${plain}`), "utf-8"],
    ["Latin-1", latin1(plain), "windows-1252"],
    ["UTF-16 with a mark", utf16le(`\ufeff${plain}`), "utf-16le"],
    ["UTF-16 without a mark", utf16le(plain), "utf-16le"],
  ])("%s", async (_name, bytes, encoding) => {
    expect((await fileOf(bytes)).encoding).toBe(encoding);
    expect((await readingOf(bytes)).vehicles).toMatchObject([{ label: "Van 1", depot: south }]);
  });

  test.each([
    ["semicolons", plain.replaceAll(",", ";")],
    ["tabs", plain.replaceAll(",", "\t")],
    ["bars", plain.replaceAll(",", "|")],
    ["a first line that names the separator", `sep=;\n${plain.replaceAll(",", ";")}`],
    ["Windows line ends", plain.replaceAll("\n", "\r\n")],
    ["old line ends", plain.replaceAll("\n", "\r")],
    ["no line end at the end", plain.trimEnd()],
    ["quotes around everything", plain.replace(/[^,\n]+/g, '"$&"').replaceAll("\n", "\r\n")],
    ["empty rows", `\n\n${plain.replace("\n", "\n,,,\n\n")}\n\n`],
  ])("with %s", async (_name, text) => {
    expect((await readingOf(text)).vehicles).toMatchObject([{ label: "Van 1", nameplate_g: 850, depot: south }]);
  });

  test("a line break inside quotation marks stays in its cell, and the rows are counted as a spreadsheet does", async () => {
    const text =
      'vehicle,refrigerant,nameplate g,date,note\r\nVan 1,R-134a,850,2026-01-01,"two\r\nlines"\r\nVan 1,R-999,,2026-01-02,x\r\n';
    const { vehicles, refused } = await readingOf(text);
    expect(vehicles[0]!.entries[0]!.note).toBe("two\nlines");
    expect(refused).toMatchObject([{ row: 3, faults: [{ field: "refrigerant", cell: "R-999" }] }]);
  });

  test.each([
    ["nothing", new Uint8Array(), "The file is empty."],
    [
      "an old spreadsheet",
      Uint8Array.of(0xd0, 0xcf, 0x11, 0xe0, 0, 0),
      "This is a spreadsheet of the old kind (.xls).",
    ],
    ["a PDF", new TextEncoder().encode("%PDF-1.7"), "This is a PDF"],
    ["a picture", Uint8Array.of(0x89, 0x50, 0x4e, 0x47, 0, 1, 2, 3, 4, 5), "This is no text file."],
  ])("%s is refused with what to do", async (_name, bytes, message) => {
    const decoded = await decodedText(inPieces(bytes));
    expect(decoded).toMatchObject({ ok: false, message: expect.stringContaining(message) });
  });
});

describe("broken rows", () => {
  test("a quotation mark in the middle of a cell refuses its row and no other", async () => {
    const { vehicles, refused } = await readingOf(
      'vehicle,refrigerant,nameplate g,date,note\nVan 1,R-134a,850,2026-01-01,good\nVan 1,,,2026-01-02,"bad"er\nVan 1,,,2026-01-03,good\n',
    );
    expect(refused[0]).toMatchObject({
      row: 3,
      faults: [{ field: null, why: expect.stringContaining("quotation marks") }],
    });
    expect(vehicles[0]!.entries.length).toBeGreaterThanOrEqual(1);
  });

  test("a quotation mark that is never closed in a long file is told, with its row", async () => {
    const rows = Array.from({ length: 20_000 }, (_, i) => `Van ${i},R-134a,850,${i === 9 ? '"open' : "note"}`);
    const { survey } = await fileOf(["vehicle,refrigerant,nameplate g,note", ...rows].join("\n"));
    expect(survey.broken).toContain("Row 11 has no end");
  });

  test("one swallowed cell of many lines is refused", async () => {
    const lines = Array.from({ length: 80 }, (_, i) => `Van ${i + 2},R-134a,850,x`).join("\n");
    const { refused } = await readingOf(
      `vehicle,refrigerant,nameplate g,note\nVan 1,R-134a,850,"open\n${lines}"\nVan 99,R-134a,850,x\n`,
    );
    expect(refused[0]!.faults[0]!.why).toContain("runs over more than");
  });

  test.each([
    ["vehicle", ",R-134a,850,2026-01-01,weak,100", "Add the vehicle's name."],
    ["nameplate", "Van 1,R-134a,99000,2026-01-01,weak,100", "is the unit right?"],
    ["refrigerant", "Van 1,R-22,850,2026-01-01,weak,100", "Not one of R-134a, R-1234yf, R-12."],
    ["date", "Van 1,R-134a,850,2027-01-01,weak,100", "That date is in the future."],
    ["date", "Van 1,R-134a,850,1970-01-01,weak,100", "Before 1980-01-01."],
    ["date", "Van 1,R-134a,850,2026-02-30,weak,100", "There is no such day."],
    ["date", "Van 1,R-134a,850,,weak,100", "Add the date."],
    ["cooling", "Van 1,R-134a,850,2026-01-01,lukewarm,100", "Not one of ok, weak, short-cycling, empty."],
    ["added", 'Van 1,R-134a,850,2026-01-01,weak,"1,250"', "thousands sign"],
    ["added", "Van 1,R-134a,850,2026-01-01,weak,much", "Enter the amount"],
    ["added", "Van 1,R-134a,850,2026-01-01,weak,-5", "Enter 0 or more"],
    ["added", "Van 1,R-134a,850,2026-01-01,weak,2600", "More than 3 times the nameplate charge of 850 g"],
  ])("a bad %s is refused with the cell: %s", async (field, row, why) => {
    const { vehicles, refused } = await readingOf(`vehicle,refrigerant,nameplate g,date,cooling,added g\n${row}\n`);
    expect(vehicles).toEqual([]);
    expect(refused[0]!.faults).toContainEqual({ field, cell: expect.any(String), why: expect.stringContaining(why) });
  });

  test("what two rows say otherwise about one vehicle refuses the later", async () => {
    const { vehicles, refused } = await readingOf(
      "vehicle,refrigerant,nameplate g\nVan 1,R-134a,850\nVan 1,R-134a,800\n",
    );
    expect(vehicles).toMatchObject([{ nameplate_g: 850 }]);
    expect(refused).toMatchObject([
      { row: 3, faults: [{ field: "nameplate", cell: "800 g", why: "Row 2 says 850 g for the same vehicle." }] },
    ]);
  });

  test("more rows than can be taken at once are told, not tried", async () => {
    async function* text() {
      yield "vehicle,refrigerant,nameplate g\n";
      const thousand = Array.from({ length: 1000 }, (_, i) => `Van ${i},R-134a,850\n`).join("");
      for (let i = 0; i < 1000; i++) yield thousand;
    }
    const { surveyOf } = await import("../../../../src/web/fleet/import/survey.ts");
    const survey = await surveyOf(text);
    expect(survey.broken).toContain("more than 250,000 rows");
  });
});

describe("headers", () => {
  test("of another name are mapped by the person", async () => {
    const text = "Fahrzeug,Kältemittel,Füllmenge [g],Datum,Nachgefüllt [g]\nVan 1,R134a,850,2026-01-05,200\n";
    const before = await fileOf(text);
    expect(before.questions).toEqual([{ kind: "no-vehicle" }]);
    const fields = { 0: "vehicle", 1: "refrigerant", 2: "nameplate", 3: "date", 4: "added" } as const;
    expect((await fileOf(text, { fields })).questions).toEqual([]);
    expect((await readingOf(text, { fields })).vehicles).toMatchObject([
      { label: "Van 1", nameplate_g: 850, entries: [{ added_g: 200 }] },
    ]);
  });

  test("that mean the same twice are asked about", async () => {
    const text = "vehicle,unit,refrigerant\nVan 1,12,R-134a\n";
    expect((await fileOf(text)).questions).toEqual([{ kind: "twice", field: "vehicle", columns: [0, 1] }]);
    expect((await fileOf(text, { fields: { 1: "none" } })).questions).toEqual([]);
  });

  test("without a unit are asked for it where the cells have none either", async () => {
    const text =
      "vehicle,refrigerant,nameplate,added,date\nVan 1,R-134a,30,12 oz,2026-01-05\nVan 2,R-134a,28.5,200 g,2026-01-05\n";
    const { questions } = await fileOf(text);
    expect(questions).toEqual([{ kind: "unit", field: "nameplate", column: 2, least: 28.5, largest: 30 }]);
    const [first] = (await readingOf(text, { units: { 2: "oz" } })).vehicles;
    expect(first!.nameplate_g).toBeCloseTo(850.486, 3); // 30 · 28.349 523 g
    expect(first!.entries[0]!.added_g).toBeCloseTo(340.194, 3);
  });

  test("cans become grams, and it says how", async () => {
    const { vehicles, mended } = await readingOf(
      "vehicle,refrigerant,nameplate g,date,added\nVan 1,R-134a,850,2026-01-05,1 can\n",
    );
    expect(vehicles[0]!.entries[0]!.added_g).toBe(340);
    expect(mended[0]!.mends).toEqual([{ field: "added", cell: "1 can", how: "read as 340 g, a can of 340 g" }]);
  });
});

describe("dates", () => {
  const file = (...dates: string[]) =>
    ["vehicle,refrigerant,nameplate g,date,cooling", ...dates.map((date) => `Van 1,R-134a,850,"${date}",weak`)].join(
      "\n",
    );
  const datesOf = async (text: string, answers = {}) =>
    (await readingOf(text, answers)).vehicles[0]?.entries.map(({ date }) => date);

  test("that can be read two ways are settled by another of the same column", async () => {
    expect((await fileOf(file("3/4/2025", "25/4/2025"))).questions).toEqual([]);
    expect(await datesOf(file("3/4/2025", "25/4/2025"))).toEqual(["2025-04-03", "2025-04-25"]);
    expect(await datesOf(file("3/4/2025", "4/25/2025"))).toEqual(["2025-03-04", "2025-04-25"]);
  });

  test("are asked about where nothing settles them", async () => {
    const text = file("3/4/2025", "2025-05-01", "5.6.2025");
    expect((await fileOf(text)).questions).toEqual([{ kind: "date-order", column: 3, example: "3/4/2025" }]);
    expect(await datesOf(text, { date_order: "day-first" })).toEqual(["2025-04-03", "2025-05-01", "2025-06-05"]);
    expect(await datesOf(text, { date_order: "month-first" })).toEqual(["2025-03-04", "2025-05-01", "2025-05-06"]);
  });

  test("of both orders in one column are asked about, and the others refused", async () => {
    const text = file("3/4/2025", "25/4/2025", "4/26/2025");
    expect((await fileOf(text)).questions).toMatchObject([{ kind: "date-order" }]);
    const { vehicles, refused } = await readingOf(text, { date_order: "day-first" });
    expect(vehicles[0]!.entries.map(({ date }) => date)).toEqual(["2025-04-03", "2025-04-25"]);
    expect(refused).toMatchObject([
      { row: 4, faults: [{ cell: "4/26/2025", why: "There is no such day, read day first." }] },
    ]);
  });

  test("in words, with a time, in two figures, or as a spreadsheet's number need no question", async () => {
    // 45778 is 1 May 2025 in the 1900 date system (ECMA-376 part 1, 18.17.4.1).
    expect(
      await datesOf(file("1 May 2025", "May 2, 2025", "2025-05-03 13:05", "2025-05-04T09:00:00Z", "45778", "30.4.25")),
    ).toEqual(["2025-05-01", "2025-05-02", "2025-05-03", "2025-05-04", "2025-05-01", "2025-04-30"]);
    const { mended } = await readingOf(file("30.4.25", "45778", "May 2025"));
    expect(mended.map(({ mends }) => mends[0]!.how)).toEqual([
      "the year 25 was read as 2025",
      "the spreadsheet's day number was read as a date",
      "only the month was given; the middle of it was taken",
    ]);
  });
});

test("cells that our own export guarded against formulas come back as they were", async () => {
  const { vehicles } = await readingOf(
    "vehicle,refrigerant,nameplate g,date,cooling,note\n'=Van,R-134a,850,2026-01-01,weak,'-5 °C outside\n",
  );
  expect(vehicles).toMatchObject([{ label: "=Van", entries: [{ note: "-5 °C outside" }] }]);
});

test("of a vehicle that is here, what is known stays and the difference is told", async () => {
  const known = [
    {
      key: "van 1",
      id: "v1",
      refrigerant: "R-134a" as const,
      nameplate_g: 800,
      fleet_group: null,
      depot: "North",
      electric_compressor: false,
      dye_in_own_oil: null,
      kind: null,
      model_year: null,
      odometer: null,
    },
  ];
  const { vehicles, mended } = await readingOf(
    "vehicle,nameplate g,depot,date,cooling\nVAN 1,850,North,2026-01-01,weak\n",
    {},
    known,
  );
  expect(vehicles).toMatchObject([{ id: "v1", nameplate_g: 800, entries: [{ cooling: "weak" }] }]);
  expect(mended[0]!.mends).toEqual([
    { field: "nameplate", cell: "850 g", how: "left out; the vehicle here says 800 g" },
  ]);
});

test("two vehicles of one name here cannot be told apart", async () => {
  const van = {
    key: "van 1",
    refrigerant: "R-134a" as const,
    nameplate_g: 800,
    fleet_group: null,
    depot: null,
    electric_compressor: false,
    dye_in_own_oil: null,
    kind: null,
    model_year: null,
    odometer: null,
  };
  const { refused } = await readingOf("vehicle,date,cooling\nVan 1,2026-01-01,weak\n", {}, [
    { ...van, id: "a" },
    { ...van, id: "b" },
  ]);
  expect(refused[0]!.faults[0]!.why).toContain("Several vehicles here are called so");
});

describe("model year and odometer", () => {
  const NEW = "R-134a,850";
  const HEAD = "vehicle,refrigerant,nameplate g";

  test("stand beside the vehicle; of several readings the latest by its day is taken", async () => {
    const { vehicles, refused, mended, samples } = await readingOf(
      [
        `${HEAD},model year,odometer (mi),date,cooling`,
        `Van 1,${NEW},2019,"84,200",2026-04-02,weak`,
        "Van 1,,,,70000,2025-04-02,weak",
        `Van 2,${NEW},,30000,,`,
        `Van 3,${NEW},,0,,`,
      ].join("\n"),
    );
    expect(refused).toEqual([]);
    expect(vehicles.map(({ model_year, odometer }) => [model_year, odometer])).toEqual([
      // 84,200 miles of 1.609 344 km (NIST SP 811).
      [2019, { km: expect.closeTo(135_506.765, 3), on: "2026-04-02" }],
      [null, { km: expect.closeTo(48_280.32, 3), on: TODAY }],
      [null, null],
    ]);
    expect(mended).toMatchObject([{ row: 5, mends: [{ field: "odometer", cell: "0" }] }]);
    // Looked over before anything is written.
    expect(samples[0]!.about).toBe("R-134a, 850 g, 2019, 84,200 miles (135,507 km) on 2026-04-02");
  });

  test("may be in a file of vehicles, with a day of its own, which makes no event", async () => {
    const { vehicles, mended } = await readingOf(
      `${HEAD},odometer km,odometer date,year\nVan 1,${NEW},135.500,2026-03-31,2019\n`,
    );
    expect(vehicles).toMatchObject([{ model_year: 2019, odometer: { km: 135_500, on: "2026-03-31" }, entries: [] }]);
    expect(mended).toEqual([]);
    const dated = await readingOf(`${HEAD},mileage,date\nVan 1,${NEW},84200 mi,2026-03-31\n`);
    expect(dated.vehicles).toMatchObject([{ odometer: { on: "2026-03-31" }, entries: [] }]);
    expect(dated.mended).toEqual([]);
  });

  test("without a unit are asked about, and read as said", async () => {
    const file = `${HEAD},mileage\nVan 1,${NEW},"84,200"\n`;
    expect((await fileOf(file)).questions).toEqual([
      { kind: "distance-unit", field: "odometer", column: 3, example: "84,200" },
    ]);
    const { vehicles } = await readingOf(file, { units: { 3: "km" } });
    expect(vehicles).toMatchObject([{ odometer: { km: 84_200 } }]);
  });

  test("that cannot be are left out and told, and the rest of the row is taken", async () => {
    const { vehicles, mended, refused } = await readingOf(
      [
        `${HEAD},model year,odometer km`,
        `Van 1,${NEW},1890,12`,
        `Van 2,${NEW},2019,9000000`,
        `Van 3,${NEW},2019,-300`,
      ].join("\n"),
    );
    expect(refused).toEqual([]);
    expect(mended.map(({ mends }) => mends.map(({ field, cell }) => [field, cell]))).toEqual([
      [["model_year", "1890"]],
      [["odometer", "9000000"]],
      [["odometer", "-300"]],
    ]);
    expect(vehicles.map(({ model_year, odometer }) => [model_year, odometer?.km ?? null])).toEqual([
      [null, 12],
      [2019, null],
      [2019, null],
    ]);
  });

  test("change a vehicle that is here when they are newer; only one that went back is told", async () => {
    const here = (label: string, km: number) => ({
      key: label.toLowerCase(),
      id: label,
      refrigerant: "R-134a" as const,
      nameplate_g: 850,
      fleet_group: null,
      depot: null,
      electric_compressor: false,
      dye_in_own_oil: null,
      kind: null,
      model_year: null,
      odometer: { km, on: "2026-03-01" },
    });
    const { vehicles, changes } = await readingOf(
      "vehicle,odometer km,odometer date\nVan 1,1200,2026-04-01\nVan 2,1200,2026-02-01\nVan 3,120,2026-04-01\n",
      {},
      [here("Van 1", 1000), here("Van 2", 1000), here("Van 3", 1000)],
    );
    expect(vehicles.map(({ change }) => change)).toEqual([
      { odometer: { km: 1200, on: "2026-04-01" } },
      null,
      { odometer: { km: 120, on: "2026-04-01" } },
    ]);
    expect(changes).toEqual([
      {
        label: "Van 3",
        field: "odometer",
        from: "621 miles (1,000 km) on 2026-03-01",
        to: "75 miles (120 km) on 2026-04-01",
        here: true,
      },
    ]);
  });
});
