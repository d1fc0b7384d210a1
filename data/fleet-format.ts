import type {
  AddedBy,
  Cooling,
  Finish,
  LocationId,
  RefrigerantId,
  VehicleKind,
} from "../src/core/question/contract.ts";

/** Fields of a charge event: they may stand several times in a row, a set for each event. */
export const EVENT_FIELDS = [
  "date",
  "cooling",
  "recovered",
  "added",
  "added_by",
  "finish",
  "repair",
  "dye",
  "order",
  "amount_unit",
  "work",
  "note",
] as const;

/**
 * The format of fleet files: a table with one header row, as CSV. One file may hold everything, a row for each charge
 * event with its vehicle's particulars beside it; or one file holds vehicles and another their charge events, joined by
 * `vehicle`. Headers are matched without case, accents and signs; a unit may stand in them: `added (oz)`,
 * `nameplate_g`.
 */

export const FLEET_FIELDS = [
  "vehicle",
  "refrigerant",
  "nameplate",
  "group",
  "depot",
  "kind",
  "electric",
  "own_oil_dye",
  "model_year",
  "odometer",
  "odometer_date",
  ...EVENT_FIELDS,
] as const;
export type FleetField = (typeof FLEET_FIELDS)[number];

/** Fields that hold an amount of refrigerant. */
export const MASS_FIELDS = ["nameplate", "recovered", "added"] as const;
export type MassField = (typeof MASS_FIELDS)[number];

export const MASS_COLUMN_UNITS = ["g", "kg", "oz", "lb"] as const;
export type MassColumnUnit = (typeof MASS_COLUMN_UNITS)[number];

/** Units that a column's numbers may be in; an odometer's are distances. */
export const COLUMN_UNITS = [...MASS_COLUMN_UNITS, "mi", "km"] as const;
export type ColumnUnit = (typeof COLUMN_UNITS)[number];

export interface FieldFormat {
  label: string;
  /** What stands in the column, with an example. */
  says: string;
  example: string;
  /** Headers that mean it, as `plainHeader` writes them. */
  headers: readonly string[];
}

export const fleetFields: Readonly<Record<FleetField, FieldFormat>> = {
  vehicle: {
    label: "Vehicle",
    says: "The vehicle's name or number. Rows with the same one belong together. Every row needs it.",
    example: "Van 12",
    headers: [
      "vehicle",
      "vehicle name",
      "vehicle number",
      "vehicle no",
      "vehicle id",
      "unit",
      "unit number",
      "unit no",
      "unit id",
      "asset",
      "asset number",
      "asset no",
      "asset id",
      "fleet number",
      "fleet no",
      "truck",
      "truck number",
      "truck no",
      "equipment number",
      "label",
      "registration",
      "plate",
    ],
  },
  refrigerant: {
    label: "Refrigerant",
    says: "R-134a, R-1234yf or R-12. Needed once for each new vehicle.",
    example: "R-134a",
    headers: ["refrigerant", "refrigerant type", "gas"],
  },
  nameplate: {
    label: "Nameplate charge",
    says: "The full charge on the label, with its unit in the header or the cell. Needed once for each new vehicle.",
    example: "850 g",
    headers: ["nameplate", "nameplate charge", "full charge", "charge capacity", "system charge", "capacity", "charge"],
  },
  group: {
    label: "Group",
    says: "Similar vehicles, such as one model. Their logs help estimate each other's leak.",
    example: "Large vans",
    headers: ["group", "fleet group", "model", "class", "type", "vehicle group", "vehicle model"],
  },
  depot: {
    label: "Depot",
    says: "Where the vehicle is kept.",
    example: "North yard",
    headers: ["depot", "yard", "site", "garage", "location", "branch"],
  },
  kind: {
    label: "Kind of vehicle",
    says: "car, van, heavy vehicle or bus: how fast such vehicles usually leak.",
    example: "van",
    headers: ["kind", "kind of vehicle", "vehicle kind", "vehicle type", "body"],
  },
  electric: {
    label: "Electric compressor",
    says: "yes where the compressor runs on high voltage.",
    example: "no",
    headers: ["electric", "electric compressor", "high voltage", "high voltage compressor"],
  },
  own_oil_dye: {
    label: "Dye in the compressor's own oil",
    says: "yes where there is leak dye in the compressor's own oil: with high voltage, no other dye may go in.",
    example: "no",
    headers: ["dye in own oil", "own oil dye", "dye in the compressors own oil"],
  },
  model_year: {
    label: "Model year",
    says: "The maker's model year, four digits.",
    example: "2019",
    headers: ["model year", "year", "year of manufacture", "year built", "build year", "year of make"],
  },
  odometer: {
    label: "Odometer",
    says: "What it showed, in miles or km, on the day of the row, or else today. The latest reading is kept.",
    example: "84200 mi",
    headers: [
      "odometer",
      "odometer reading",
      "current odometer",
      "mileage",
      "current mileage",
      "odo",
      "miles",
      "km",
      "kilometers",
      "kilometres",
      "meter reading",
    ],
  },
  odometer_date: {
    label: "Odometer read on",
    says: "The day of the reading, where it is not that of the row.",
    example: "2026-04-30",
    headers: ["odometer date", "odometer read on", "reading date", "mileage date", "meter reading date", "read on"],
  },
  date: {
    label: "Date",
    says: "The day of the charge event. 2026-05-01, 1 May 2026, 1.5.2026 or 5/1/2026; where day and month can be taken for each other you are asked.",
    example: "2026-05-01",
    headers: [
      "date",
      "day",
      "service date",
      "event date",
      "visit date",
      "visit",
      "done on",
      "charge date",
      "date of service",
    ],
  },
  cooling: {
    label: "Cooling",
    says: "How it cooled before anything was done: ok, weak, short-cycling or empty.",
    example: "weak",
    headers: ["cooling", "cooled", "how it cooled", "condition"],
  },
  recovered: {
    label: "Recovered",
    says: "Refrigerant that a machine with a scale pulled out.",
    example: "380 g",
    headers: ["recovered", "recovered amount", "refrigerant recovered", "reclaimed"],
  },
  added: {
    label: "Added",
    says: "Refrigerant put in. Cans count too: 2 cans.",
    example: "12 oz",
    headers: [
      "added",
      "added amount",
      "refrigerant added",
      "amount",
      "amount added",
      "charged",
      "topped off",
      "charge amount",
      "quantity",
      "qty",
    ],
  },
  added_by: {
    label: "Added by",
    says: "scale or cans. Cans where it is empty.",
    example: "scale",
    headers: ["added by", "added with", "by", "method"],
  },
  finish: {
    label: "Finish",
    says: "How the fill was judged: weighed (evacuated and charged by weight), gauges, low-side or unknown.",
    example: "weighed",
    headers: ["finish", "judged by", "fill", "filled by"],
  },
  repair: {
    label: "Repair",
    says: "The place that was repaired: service-port, joint, hose, condenser, evaporator or compressor.",
    example: "hose",
    headers: ["repair", "repaired", "repair made", "part repaired"],
  },
  dye: {
    label: "Dye added",
    says: "yes where dye went in, so that someone is reminded to look for it.",
    example: "no",
    headers: ["dye", "dye added", "uv dye"],
  },
  order: {
    label: "Order number",
    says: "The work order. The same order with another amount corrects its entry and adds none.",
    example: "WO 4711",
    headers: [
      "order",
      "order number",
      "order no",
      "work order",
      "work order number",
      "work order no",
      "wo",
      "job number",
    ],
  },
  amount_unit: {
    label: "Unit of the amounts",
    says: "g, kg, oz or lb, for the amounts in the same row.",
    example: "oz",
    headers: ["uom", "unit of measure", "unit of amount", "amount unit", "measure"],
  },
  work: {
    label: "Work in words",
    says: "What was done, in a sentence. Amount, dye and repair are read out of it, and shown before anything is added.",
    example: "recharged 1.2 lb, dye added",
    headers: [
      "work",
      "work done",
      "work performed",
      "work description",
      "description",
      "job",
      "service performed",
      "action",
    ],
  },
  note: {
    label: "Note",
    says: "Anything else about the event, such as who did it.",
    example: "compressor noisy",
    headers: ["note", "notes", "remark", "remarks", "comment", "comments"],
  },
};

/** Words that people write for what the log knows. Matched without case and signs; our own words come first. */
export const cellWords = {
  refrigerant: {
    "R-134a": ["r 134a", "r134a", "134a", "hfc 134a", "hfc134a", "r 134"],
    "R-1234yf": ["r 1234yf", "r1234yf", "1234yf", "hfo 1234yf", "hfo1234yf", "yf"],
    "R-12": ["r 12", "r12", "cfc 12", "cfc12"],
  } satisfies Record<RefrigerantId, readonly string[]>,
  kind: {
    car: ["car", "passenger car", "sedan", "suv", "pickup", "taxi"],
    van: ["van", "light van", "cargo van", "minibus", "light truck"],
    "heavy-vehicle": ["heavy vehicle", "heavy", "truck", "heavy truck", "lorry", "tractor", "machine"],
    bus: ["bus", "coach", "transit bus", "city bus"],
  } satisfies Record<VehicleKind, readonly string[]>,
  cooling: {
    ok: ["ok", "good", "cold", "fine", "normal", "cools well"],
    weak: ["weak", "warm", "poor", "low", "not cold", "weak cooling", "warm air", "blows warm"],
    "short-cycling": ["short cycling", "cycling", "short cycles"],
    empty: ["empty", "none", "no pressure", "no cooling", "flat"],
  } satisfies Record<Cooling, readonly string[]>,
  added_by: {
    scale: ["scale", "by scale", "weight", "machine"],
    cans: ["cans", "can", "by cans", "by can"],
  } satisfies Record<AddedBy, readonly string[]>,
  finish: {
    weighed: ["weighed", "by weight", "full charge", "evacuated and charged"],
    gauges: ["gauges", "gauge", "pressures", "both gauges"],
    "low-side": ["low side", "low side gauge"],
    unknown: ["unknown", "not known"],
  } satisfies Record<Finish, readonly string[]>,
  repair: {
    "service-port": ["service port", "port", "valve core", "schrader valve"],
    joint: ["joint", "o ring", "seal", "fitting", "joint or seal"],
    hose: ["hose", "line", "pipe"],
    condenser: ["condenser"],
    evaporator: ["evaporator"],
    compressor: ["compressor", "shaft seal"],
  } satisfies Record<LocationId, readonly string[]>,
  yes_no: {
    yes: ["yes", "y", "true", "1", "x"],
    no: ["no", "n", "false", "0"],
  },
} as const;

/** What an import takes at once. More rows, or a longer row, come with a message that says so. */
export const importBounds = {
  rows: 250_000,
  row_chars: 200_000,
  cell_lines: 60,
  columns: 100,
  sheets: 12,
  /** Bytes of a workbook when it is unpacked. */
  workbook_bytes: 100 * 1024 * 1024,
} as const;
