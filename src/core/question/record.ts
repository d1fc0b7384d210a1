/**
 * The shapes of what is recorded: a vehicle, and the lines of its ledgers. Names, units and ids are those of the store,
 * of the exported document and of `/api/vehicles`; a set of readings is in `readings/record.ts`.
 */

import type {
  AssumptionsInput,
  Cooling,
  Finding,
  LogEntry,
  PlanInput,
  PricesInput,
  RefrigerantId,
  VehicleKind,
} from "./contract.ts";

/** Characters (code points) of a vehicle's label, group and depot. */
export const MAX_LABEL_CHARS = 120;
/** Characters of the note beside an entry, a test result or readings. */
export const MAX_REMARK_CHARS = 2000;
/** Characters of a note that stands by itself. */
export const MAX_NOTE_CHARS = 20_000;

/** What an entry of the charge log may say of its cans and their deposit. */
export const recordBounds = {
  cans_opened: { min: 0, max: 1000 },
  deposit: { min: 0, max: 1_000_000, unit: "money" },
} as const;

/** What a person says about a vehicle. */
export interface VehicleInput {
  label: string;
  refrigerant: RefrigerantId;
  nameplate_g: number;
  /** Volume of the refrigerant system; null: estimated from the nameplate charge. */
  system_volume_ml: number | null;
  /** The compressor runs on high voltage. */
  electric_compressor: boolean;
  /** There is leak dye in the compressor's own oil for it, which alone goes with high voltage; null: not sure. */
  dye_in_own_oil: boolean | null;
  /** What it is; null: not said. */
  kind: VehicleKind | null;
  /** A preset climate; null: that of the workspace. */
  climate: string | null;
  /** Twelve monthly means, January first, °C; they go before `climate`. */
  monthly_mean_c: number[] | null;
  /** Vehicles of one group resemble each other. */
  fleet_group: string | null;
  depot: string | null;
  /** These three: only what differs from the workspace. */
  plan: PlanInput;
  prices: OwnPrices;
  assumptions: AssumptionsInput;
}

/**
 * Prices of one's own, and what they (and the money in the plan beside them) are in: ISO 4217; absent: as the
 * workspace.
 */
export type OwnPrices = PricesInput & { currency?: string | null | undefined };

/** A vehicle of which only label, refrigerant and nameplate charge are known. */
export const NEW_VEHICLE: Omit<VehicleInput, "label" | "refrigerant" | "nameplate_g"> = {
  system_volume_ml: null,
  electric_compressor: false,
  dye_in_own_oil: null,
  kind: null,
  climate: null,
  monthly_mean_c: null,
  fleet_group: null,
  depot: null,
  plan: {},
  prices: {},
  assumptions: {},
};

/** Which version of something is stored, and who wrote the first and the last one, when (instants in UTC). */
export interface Revision {
  version: number;
  created_at: string;
  created_by: string;
  updated_at: string;
  updated_by: string;
}

/** A vehicle as it is stored. */
export interface Vehicle extends VehicleInput, Revision {
  id: string;
  /** Invented, and can be taken away without a trace. */
  example: boolean;
  archived_at: string | null;
}

export const CHANGES = ["added", "corrected", "removed", "restored"] as const;
export type Change = (typeof CHANGES)[number];

/** What every line of a ledger says beside its content. */
export interface LineHead {
  /** The entry. Its lines have one id and count their versions from 1. */
  id: string;
  version: number;
  change: Change;
  vehicle_id: string;
  /** Counts the entries of a vehicle in the order in which they were added. */
  number: number;
  recorded_at: string;
  recorded_by: string;
}

export type Line<Content> = LineHead & Content;

/** Whether dye went in. The model does not ask; a reminder to look for it comes from it. */
export const DYE = ["added"] as const;
export type Dye = (typeof DYE)[number];

/** What a line of the charge log says; every field is there, null where nothing was said. Amounts in g. */
export type ChargeEntry = { [Field in keyof Required<LogEntry>]: Exclude<LogEntry[Field], undefined> } & {
  dye: Dye | null;
  /** How it cooled when all was done: to the model a look of its own, after the entry. */
  cooling_after: Cooling | null;
  /** Cans opened for it, a whole number. */
  cans_opened: number | null;
  /** Deposit paid on them in all, in the workspace's currency. */
  deposit: number | null;
  /** The last day on which it comes back. */
  deposit_return_by: string | null;
  note: string | null;
};
/** The same as it comes in: what is absent was not said. */
export type ChargeEntryInput = LogEntry & Partial<Omit<ChargeEntry, keyof LogEntry>>;
export type ChargeLine = Line<ChargeEntry>;

/** What the model uses of an entry. */
export function modelledEntry<Entry extends LogEntry>({
  date,
  date_within_days,
  cooling,
  recovered_g,
  added_g,
  added_by,
  finish,
  repair,
}: Entry): Pick<Entry, keyof LogEntry> {
  return { date, date_within_days, cooling, recovered_g, added_g, added_by, finish, repair };
}

/** What a charge entry says, in the order in which tables have it. */
export const CHARGE_COLUMNS = [
  "date",
  "date_within_days",
  "cooling",
  "recovered_g",
  "added_g",
  "added_by",
  "finish",
  "repair",
  "dye",
  "cooling_after",
  "cans_opened",
  "deposit",
  "deposit_return_by",
  "note",
] as const satisfies readonly (keyof ChargeEntry)[];

/** What a leak test said about a place, with a note. */
export type FoundLeak = Finding & { note: string | null };
export type FindingInput = Finding & { note?: string | null };
export type FindingLine = Line<FoundLeak>;

export interface Note {
  body: string;
}
export type NoteLine = Line<Note>;
