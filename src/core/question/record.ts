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

/** Most characters (code points) of a vehicle's label, group or depot. */
export const MAX_LABEL_CHARS = 120;
/** Most characters of the note beside an entry, a test result or readings. */
export const MAX_REMARK_CHARS = 2000;
/** Most characters of a note that stands by itself. */
export const MAX_NOTE_CHARS = 20_000;

/** Ranges of what a charge entry says about its cans and their deposit. */
export const recordBounds = {
  cans_opened: { min: 0, max: 1000 },
  deposit: { min: 0, max: 1_000_000, unit: "money" },
  model_year: { min: 1940, max: 2100, unit: "" },
  /** Three million miles. */
  odometer_km: { min: 0, max: 5_000_000, unit: "km" },
} as const;

/** What an odometer showed, and on which day. */
export interface Odometer {
  /** Kilometers. */
  km: number;
  /** The day of the reading, `YYYY-MM-DD`. */
  on: string;
}

/** What a person enters about a vehicle. */
export interface VehicleInput {
  /** What the person calls it. */
  label: string;
  /** What its system is filled with. */
  refrigerant: RefrigerantId;
  /** Full charge by the label, grams. */
  nameplate_g: number;
  /** Volume of the refrigerant system, ml; null: estimated from the nameplate charge. */
  system_volume_ml: number | null;
  /** The compressor runs on high voltage. */
  electric_compressor: boolean;
  /**
   * Whether leak dye made up in the compressor's own oil is available, the only dye safe at high voltage; null: not
   * sure.
   */
  dye_in_own_oil: boolean | null;
  /** Kind of vehicle; null: not said. */
  kind: VehicleKind | null;
  /** Name of a preset climate; null: that of the workspace. */
  climate: string | null;
  /** Mean outdoor temperature of January to December, °C, in place of `climate`; null: none given. */
  monthly_mean_c: number[] | null;
  /** Vehicles of one group are expected to leak alike; null: in no group. */
  fleet_group: string | null;
  /** Where it is kept; null: not said. */
  depot: string | null;
  /** The maker's model year; null: not said. */
  model_year: number | null;
  /** The latest known reading; null: none. */
  odometer: Odometer | null;
  /** Only what differs from the workspace's plan. */
  plan: PlanInput;
  /** Only what differs from the workspace's prices. */
  prices: OwnPrices;
  /** Only what differs from the workspace's assumptions. */
  assumptions: AssumptionsInput;
}

/** A vehicle's own prices. */
export type OwnPrices = PricesInput & {
  /** Their ISO 4217 currency, and that of the money in the plan beside them; absent: that of the workspace. */
  currency?: string | null | undefined;
};

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
  model_year: null,
  odometer: null,
  plan: {},
  prices: {},
  assumptions: {},
};

/** Which version of something is stored, and who wrote its first and its latest version. */
export interface Revision {
  /** Counts from 1; each change raises it by one. */
  version: number;
  /** Instant of the first version, UTC. */
  created_at: string;
  /** Who wrote the first version. */
  created_by: string;
  /** Instant of this version, UTC. */
  updated_at: string;
  /** Who wrote this version. */
  updated_by: string;
}

/** A vehicle as it is stored. */
export interface Vehicle extends VehicleInput, Revision {
  /** Its identifier, made by the store. */
  id: string;
  /** An invented vehicle to try things on; it can be deleted without a trace. */
  example: boolean;
  /** Instant from which it is archived, UTC; null: it is not. */
  archived_at: string | null;
}

export const CHANGES = ["added", "corrected", "removed", "restored"] as const;
export type Change = (typeof CHANGES)[number];

/** What every line of a ledger holds beside its content. A line is one version of an entry. */
export interface LineHead {
  /** Identifier of the entry; all its versions share it. */
  id: string;
  /** Which version of the entry this is, from 1. */
  version: number;
  /** What made this version. */
  change: Change;
  /** The vehicle whose ledger it is in. */
  vehicle_id: string;
  /** Position of the entry among those of its vehicle, in the order in which they were added. */
  number: number;
  /** Instant at which this version was written, UTC. */
  recorded_at: string;
  /** Who wrote this version. */
  recorded_by: string;
}

/** A version of an entry: its head and its content. */
export type Line<Content> = LineHead & Content;

/** Whether dye went in. The model does not use it; a reminder to look for the dye hangs on it. */
export const DYE = ["added"] as const;
export type Dye = (typeof DYE)[number];

/** The content of a charge entry; every field is there, null where nothing was said. Amounts in grams. */
export type ChargeEntry = { [Field in keyof Required<LogEntry>]: Exclude<LogEntry[Field], undefined> } & {
  /** Whether leak dye was added. */
  dye: Dye | null;
  /** How it cooled after the work; the model takes it as a look of its own that follows the entry. */
  cooling_after: Cooling | null;
  /** Cans opened for it, a whole number. */
  cans_opened: number | null;
  /** Deposit paid on those cans in all, money in the workspace's currency. */
  deposit: number | null;
  /** Last day on which the deposit is given back. */
  deposit_return_by: string | null;
  /** Free text. */
  note: string | null;
};
/** A charge entry as entered: what is absent was not said. */
export type ChargeEntryInput = LogEntry & Partial<Omit<ChargeEntry, keyof LogEntry>>;
export type ChargeLine = Line<ChargeEntry>;

/** The fields of a charge entry that the model uses. */
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

/** The fields of a charge entry, in the order of tables and downloads. */
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

/** The result of a leak test, with a note. */
export type FoundLeak = Finding & {
  /** Free text; null: none. */
  note: string | null;
};
/** The same as entered: what is absent was not said. */
export type FindingInput = Finding & Partial<Pick<FoundLeak, "note">>;
export type FindingLine = Line<FoundLeak>;

/** A note on a vehicle. */
export interface Note {
  /** Its text. */
  body: string;
}
export type NoteLine = Line<Note>;
