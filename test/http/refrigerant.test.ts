import { beforeEach, describe, expect, test } from "vitest";
import { newStore } from "../store/engines.ts";
import { acceptedQuote } from "../store/invoice-samples.ts";
import { VAN } from "../store/samples.ts";
import { linksRuntimes } from "../support/links-app.ts";
import { EditorsDesk } from "../support/links-desk.ts";
import { formIn, textOf } from "../support/page-form.ts";

const NEW = { name: "C-17", refrigerant: "R-134a", condition: "new", most_g: 13_600, retired: false } as const;
const RECOVERY = {
  name: "R-2",
  refrigerant: "R-134a",
  condition: "recovered",
  most_g: 20_000,
  retired: false,
} as const;

describe.each(linksRuntimes)("refrigerant log on $name", ({ start }) => {
  const desk = new EditorsDesk(start);
  beforeEach(async () => {
    await desk.store.settings.update({ ...(await desk.store.settings.get()), mass_unit: "g" }, 1);
  });

  /** A full cylinder of 13600 g, and an empty one to recover into. */
  async function cylinders() {
    const [full, empty] = [
      await desk.store.refrigerantLog.create(NEW),
      await desk.store.refrigerantLog.create(RECOVERY),
    ];
    const delivered = { kind: "received" as const, date: "2026-01-05", amount_g: 13_600, note: "invoice 4711" };
    await desk.store.refrigerantLog.addMove(full.id, delivered);
    return { full, empty };
  }

  async function entry(day: string, recovered_g: number, added_g: number) {
    const { id } = await desk.store.vehicles.create({ ...VAN, label: "van, bad payer" });
    const shown = { words: "2019 van", plate: "XR-7 402", vin: "", odometer: "", customer_id: null };
    await desk.store.customers.setParticulars(id, 0, shown);
    return desk.store.chargeLog.add(id, { date: day, recovered_g, added_g, added_by: "scale", finish: "weighed" });
  }

  async function chargedFrom(cylinder: string, entry_id: string): Promise<void> {
    const work = { technician: "A", certificate: "", recovered_into: null, charged_from: cylinder };
    await desk.store.refrigerantLog.setWork(entry_id, 0, work);
  }

  test("an entry of the charge log is on the year's sheet at once, and complete when technician and cylinders are named", async () => {
    const { full, empty } = await cylinders();
    const log = await entry("2026-03-10", 260, 650);
    expect(textOf(await desk.editor.page("/refrigerant/years/2026"))).toMatch(
      /not said 2019 van, XR-7 402 R-134a 260 g not said 650 g not said/,
    );
    const form = formIn(await desk.editor.page(`/refrigerant/work/${log.id}`), "work");
    form.set("technician", "Alex Moss");
    form.set("certificate", "609-1234");
    form.set("recovered_into", empty.id);
    form.set("charged_from", full.id);
    expect((await desk.editor.post(`/refrigerant/work/${log.id}`, form)).status).toBe(303);
    const sheet = textOf(await desk.editor.page("/refrigerant/years/2026"));
    expect(sheet).toContain("Alex Moss, 609-1234 2019 van, XR-7 402 R-134a 260 g R-2 650 g C-17, new");
    expect(sheet).not.toContain("bad payer");
    // 13600 − 650 = 12950; 0 + 260 = 260.
    expect(sheet).toMatch(/C-17, R-134a 0 g 13,600 g 0 g 650 g 0 g 0 g 12,950 g/);
    expect(sheet).toMatch(/R-2, R-134a 0 g 0 g 260 g 0 g 0 g 0 g 260 g/);
    const csv = await (await desk.editor.get("/refrigerant/years/2026/sheet.csv")).text();
    expect(csv).toContain('entry,2026-03-10,Alex Moss,609-1234,"2019 van, XR-7 402",R-134a,260,R-2,650,C-17,new');
    expect(csv).toContain("cylinder,,,,,R-134a,,,,C-17,,0,13600,0,650,0,0,12950");
  });

  test("a correction of the charge log corrects stock and sheet: the amount stands in one place", async () => {
    const { full } = await cylinders();
    const log = await entry("2026-03-10", 0, 650);
    await chargedFrom(full.id, log.id);
    await desk.store.chargeLog.correct(log.id, 1, {
      date: "2026-03-10",
      added_g: 600,
      added_by: "scale",
      finish: "weighed",
    });
    expect(textOf(await desk.editor.page(`/refrigerant/cylinders/${full.id}`))).toContain(
      "Cylinder C-17: 13,000 g of R-134a",
    );
    await desk.store.chargeLog.remove(log.id, 2);
    expect(textOf(await desk.editor.page(`/refrigerant/cylinders/${full.id}`))).toContain(
      "Cylinder C-17: 13,600 g of R-134a",
    );
  });

  test.each([
    ["more than it may hold", "received", "60 lb", "may hold"],
    ["more sent away than is in it", "returned", "14000 g", "only 13,600 g is in it"],
    ["a weighing far off the book", "weighed", "1360 g", "By the book it holds 13,600 g"],
  ])("%s is questioned, and recorded when it was read off the scale", async (_what, kind, amount, question) => {
    const { full } = await cylinders();
    const form = formIn(await desk.editor.page(`/refrigerant/cylinders/${full.id}`), "move");
    expect(form.get("amount")).toBe("");
    form.set("kind", kind);
    form.set("amount", amount);
    const asked = await desk.editor.post(`/refrigerant/cylinders/${full.id}/moves`, form);
    expect(asked.status).toBe(422);
    const page = await asked.text();
    expect(textOf(page)).toContain(question);
    const again = formIn(page, "move");
    expect(again.get("amount")).toBe(amount);
    again.set("sure", "yes");
    expect((await desk.editor.post(`/refrigerant/cylinders/${full.id}/moves`, again)).status).toBe(303);
  });

  test("the work of an accepted quote names technician and cylinders in the same step", async () => {
    const { full } = await cylinders();
    const { quote_id, vehicle_id } = await acceptedQuote(desk.store);
    const log = async (fields: Record<string, string>) =>
      desk.editor.post(`/vehicles/${vehicle_id}/quotes/${quote_id}/work`, {
        ...{
          version: "3",
          when: "2026-05-01",
          cooling: "",
          recovered: "",
          repair: "",
          added: "400 g",
          filled: "topped",
        },
        ...{ electronic: "", note: "", technician: "Alex Moss", certificate: "609-1234", recovered_into: "" },
        ...fields,
      });
    expect((await log({ charged_from: "nothing" })).status).toBe(422);
    const logged = await log({ charged_from: full.id });
    expect(logged.status, textOf(await logged.clone().text())).toBe(303);
    expect(textOf(await desk.editor.page("/refrigerant/years/2026"))).toContain("Alex Moss, 609-1234");
    expect((await desk.store.refrigerantLog.lines(full.id)).map(({ kind, amount_g }) => [kind, amount_g])).toEqual([
      ["received", 13_600],
      ["charged", 400],
    ]);
  });

  test("a move recorded by mistake counts no more and stays in the tables; samples are on no sheet", async () => {
    const { full } = await cylinders();
    const [line] = await desk.store.refrigerantLog.lines(full.id);
    expect((await desk.editor.post(`/refrigerant/cylinders/${full.id}/moves/${line!.move_id}/removal`)).status).toBe(
      303,
    );
    expect(await desk.store.refrigerantLog.lines(full.id)).toEqual([]);
    expect((await desk.store.transfer.export()).cylinder_moves).toMatchObject([
      { id: line!.move_id, removed_at: expect.any(String), removed_by: expect.any(String) },
    ]);
    await desk.store.vehicles.create(VAN, { example: true, charge_log: [{ date: "2026-03-01", added_g: 100 }] });
    expect(textOf(await desk.editor.page("/refrigerant/years/2026"))).toContain(
      "No refrigerant was recovered or charged in 2026",
    );
  });

  test("travels with an export", async () => {
    const { full } = await cylinders();
    const log = await entry("2026-03-10", 0, 650);
    await chargedFrom(full.id, log.id);
    const document = await desk.store.transfer.export();
    const copy = await newStore(desk.app.sql);
    expect(await copy.transfer.import(document)).toMatchObject({
      cylinders: { added: 2 },
      cylinder_moves: { added: 1 },
      refrigerant_work: { added: 1 },
    });
    expect(await copy.refrigerantLog.year(2026)).toEqual(await desk.store.refrigerantLog.year(2026));
    expect(await copy.refrigerantLog.lines()).toEqual(await desk.store.refrigerantLog.lines());
  });
});
