import type { VehicleReadingsFields } from "../../../views/vehicles/record/readings-fields.ts";
import { formatDate } from "../../core/quantities/dates.ts";
import { typedAltitude, typedPressure, typedTemperature } from "../../core/quantities/typed-reading.ts";
import { MAX_REMARK_CHARS } from "../../core/question/record.ts";
import type { ReadingsEntry, ReadingsInput } from "../../core/readings/record.ts";
import { atmosphereKpa } from "../../core/refrigerant/atmosphere.ts";
import { type Read, Refusals, readDay, readWords } from "../forms/form-reading.ts";
import { readingsOfAddress, readReadingsForm } from "../readings/readings-form.ts";
import type { About } from "./about.ts";

const FIELDS = [
  "when",
  "ambient",
  "humidity",
  "altitude",
  "static",
  "low",
  "high",
  "vent",
  "rpm",
  "clutch",
  "fan",
  "condenser",
  "more_air",
  "suction_line",
  "liquid_line",
  "equalizing",
  "sight_glass",
  "metering",
  "compressor",
  "note",
];

/** A new set, in the units of the workspace, that may begin with what an address brings along. */
export function blankReadings(query: URLSearchParams, { today, gauges }: About): VehicleReadingsFields {
  const { units, gauge } = gauges;
  return { ...readingsFieldsOf(query), units, gauge, when: query.get("when") ?? formatDate(today) };
}

/** The fields of a form, each as it was typed; it says itself in which units. */
export function readingsFieldsOf(form: URLSearchParams): VehicleReadingsFields {
  return { ...readingsOfAddress(form), when: form.get("when") ?? "", note: form.get("note") ?? "" };
}

/** A stored set as its form shows it. */
export function typedReadings(entry: ReadingsEntry, { vehicle, gauges }: About): VehicleReadingsFields {
  const { units, gauge } = gauges;
  const atmosphere_kpa = atmosphereKpa(entry.altitude_m ?? 0);
  const typed = <T>(value: T | null, said: (value: T) => string) => (value === null ? "" : said(value));
  const temperature = (t_c: number) => typedTemperature(t_c, units);
  const pressure = (p_kpa: number) => typedPressure(p_kpa, gauge, atmosphere_kpa);
  return {
    units,
    gauge,
    refrigerant: vehicle.refrigerant,
    nameplate: "",
    when: formatDate(entry.date),
    ambient: temperature(entry.ambient_c),
    humidity: typed(entry.humidity_percent, String),
    altitude: typed(entry.altitude_m, (altitude_m) => typedAltitude(altitude_m, units)),
    static: typed(entry.static_kpa, pressure),
    low: typed(entry.low_kpa, pressure),
    high: typed(entry.high_kpa, pressure),
    vent: typed(entry.vent_c, temperature),
    rpm: typed(entry.engine_rpm, String),
    clutch: entry.clutch ?? "",
    fan: entry.fan ?? "",
    condenser: entry.condenser ?? "",
    more_air: entry.more_air ?? "",
    suction_line: typed(entry.suction_line_c, temperature),
    liquid_line: typed(entry.liquid_line_c, temperature),
    equalizing: typed(entry.equalizing_s, String),
    sight_glass: entry.sight_glass ?? "",
    metering: entry.metering ?? "",
    compressor: entry.compressor ?? "",
    note: entry.note ?? "",
  };
}

/** Reads a set of readings at the vehicle. */
export function readVehicleReadings(fields: VehicleReadingsFields, about: About): Read<ReadingsInput> {
  const refusals = new Refusals();
  const when = readDay(fields.when, about);
  if ("message" in when) refusals.refuse("when", when.message);
  const { readings, errors } = readReadingsForm({ ...fields, refrigerant: about.vehicle.refrigerant, nameplate: "" });
  for (const { field, message } of errors) refusals.refuse(field, message);
  const note = readWords(fields.note, MAX_REMARK_CHARS);
  if ("message" in note) refusals.refuse("note", note.message);
  if (readings === null || "message" in when || "message" in note)
    return { ok: false, errors: refusals.inOrder(FIELDS) };
  const { refrigerant: _, nameplate_g: __, ...read } = readings;
  return { ok: true, input: { ...read, date: when.iso, note: note.words } };
}
