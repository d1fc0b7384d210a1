import {
  CLUTCH,
  COMPRESSOR,
  CONDENSER,
  FAN,
  METERING,
  MORE_AIR,
  SIGHT_GLASS,
} from "../core/readings/readings-contract.ts";
import type { ReadingsEntry } from "../core/readings/record.ts";
import { nullable, number, oneOf, text } from "./columns.ts";
import type { LedgerTable } from "./ledger.ts";

export const readingsTable: LedgerTable<ReadingsEntry> = {
  table: "readings",
  what: "set of readings",
  columns: {
    date: text,
    ambient_c: number,
    humidity_percent: nullable(number),
    altitude_m: nullable(number),
    static_kpa: nullable(number),
    low_kpa: nullable(number),
    high_kpa: nullable(number),
    engine_rpm: nullable(number),
    vent_c: nullable(number),
    clutch: nullable(oneOf(CLUTCH)),
    fan: nullable(oneOf(FAN)),
    condenser: nullable(oneOf(CONDENSER)),
    more_air: nullable(oneOf(MORE_AIR)),
    suction_line_c: nullable(number),
    liquid_line_c: nullable(number),
    equalizing_s: nullable(number),
    sight_glass: nullable(oneOf(SIGHT_GLASS)),
    metering: nullable(oneOf(METERING)),
    compressor: nullable(oneOf(COMPRESSOR)),
    note: nullable(text),
  },
  order: "date, number, id",
  searched: "note",
};
