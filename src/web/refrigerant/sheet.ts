import type { SheetLine } from "../../../views/refrigerant/sheet-page.tsx";
import { balanceOfYear, type MassBalance } from "../../core/refrigerant/cylinders.ts";
import type { Cylinder, CylinderLine, WorkLine } from "../../store/refrigerant-log.ts";
import { csvOf } from "../edge/csv.ts";

/** The entries of a year as its sheet has them: a vehicle by plate and VIN, where they are known. */
export function sheetLines(entries: readonly WorkLine[], cylinders: readonly Cylinder[]): SheetLine[] {
  const by_id = new Map(cylinders.map((cylinder) => [cylinder.id, cylinder]));
  return entries.map((entry) => {
    const from = by_id.get(entry.charged_from ?? "");
    const on_paper = [entry.words, entry.plate, entry.vin === "" ? "" : `VIN ${entry.vin}`].filter(
      (part) => part !== "",
    );
    return {
      log_id: entry.log_id,
      date: entry.date,
      technician: entry.technician,
      certificate: entry.certificate,
      vehicle: on_paper.length === 0 ? entry.vehicle_label : on_paper.join(", "),
      refrigerant: entry.refrigerant,
      recovered_g: entry.recovered_g,
      recovered_into: by_id.get(entry.recovered_into ?? "")?.name ?? "",
      charged_g: entry.added_g,
      charged_from: from?.name ?? (entry.added_by === "cans" ? "cans" : ""),
      charged_condition: from?.condition ?? "",
    };
  });
}

/** The mass balance of each cylinder in which anything was, or moved, in a year. */
export function balancesOf(
  cylinders: readonly Cylinder[],
  lines: readonly CylinderLine[],
  year: number,
): { name: string; refrigerant: string; balance: MassBalance }[] {
  const by_cylinder = Map.groupBy(lines, ({ cylinder_id }) => cylinder_id);
  return cylinders
    .map(({ id, name, refrigerant }) => ({
      name,
      refrigerant,
      balance: balanceOfYear(by_cylinder.get(id) ?? [], year),
    }))
    .filter(({ balance }) => Object.values(balance).some((grams) => grams !== 0));
}

/** The same for a spreadsheet, in grams: first the entries, then a line for each cylinder. */
export function sheetCsv(lines: readonly SheetLine[], balances: ReturnType<typeof balancesOf>): string {
  const rounded = (grams: number | null) => (grams === null ? null : Math.round(grams * 10) / 10);
  const entries = lines.map((line) => [
    "entry",
    line.date,
    line.technician,
    line.certificate,
    line.vehicle,
    line.refrigerant,
    rounded(line.recovered_g),
    line.recovered_into,
    rounded(line.charged_g),
    line.charged_from,
    line.charged_condition,
    ...BALANCE.map(() => null),
  ]);
  const cylinders = balances.map(({ name, refrigerant, balance }) => [
    "cylinder",
    ...[null, null, null, null, refrigerant, null, null, null, name, null],
    ...BALANCE.map((column) => rounded(balance[column])),
  ]);
  return csvOf([...ENTRY, ...BALANCE.map((name) => `balance_${name}`)], [...entries, ...cylinders]);
}

const ENTRY = [
  "row",
  "date",
  "technician",
  "certificate",
  "vehicle",
  "refrigerant",
  "recovered_g",
  "recovered_into",
  "charged_g",
  "cylinder",
  "condition",
] as const;
const BALANCE = [
  "opening_g",
  "received_g",
  "recovered_g",
  "charged_g",
  "returned_g",
  "adjusted_g",
  "closing_g",
] as const satisfies readonly (keyof MassBalance)[];
