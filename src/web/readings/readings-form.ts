import { readingBounds } from "../../../data/readings-table.ts";
import type { FieldError } from "../../../views/parts/error-summary.tsx";
import { type ReadingsFields, usualGauge } from "../../../views/readings/readings-fields.ts";
import type { GaugeStyle } from "../../../views/readings/said-readings.ts";
import { formatTemperature } from "../../core/quantities/format.ts";
import { parseAltitude, parsePressure, parseTemperature } from "../../core/quantities/parse-reading.ts";
import { plainText, typedNumber } from "../../core/quantities/typed-number.ts";
import { TYPED_PRESSURE_UNIT } from "../../core/quantities/typed-reading.ts";
import { PRESSURE_UNITS, UNIT_SYSTEMS } from "../../core/quantities/units.ts";
import { REFRIGERANTS } from "../../core/question/contract.ts";
import {
  CLUTCH,
  COMPRESSOR,
  CONDENSER,
  FAN,
  METERING,
  MORE_AIR,
  type Readings,
  SIGHT_GLASS,
} from "../../core/readings/readings-contract.ts";
import { atmosphereKpa } from "../../core/refrigerant/atmosphere.ts";
import { Refusals } from "../forms/form-reading.ts";
import { isEmpty, oneOf, readNameplate, withUnit } from "../forms/typed-values.ts";

/** What was typed, and the readings that it means, or what to put right. */
export interface ReadingsQuestion {
  fields: ReadingsFields;
  errors: FieldError[];
  readings: (Readings & { ambient_c: number }) | null;
}

/** In the order of the form. */
const BLANK: ReadingsFields = {
  ambient: "",
  humidity: "",
  altitude: "",
  refrigerant: "R-134a",
  nameplate: "",
  units: "us",
  gauge: "psi-gauge",
  static: "",
  low: "",
  high: "",
  rpm: "",
  vent: "",
  clutch: "",
  fan: "",
  condenser: "",
  more_air: "",
  suction_line: "",
  liquid_line: "",
  equalizing: "",
  sight_glass: "",
  metering: "",
  compressor: "",
};

/** Whether the address contains readings; a link may carry only units, place and vehicle. */
export function isAsked(query: URLSearchParams, fields: ReadingsFields): boolean {
  const { units, gauge, altitude, refrigerant, nameplate, ...readings } = fields;
  return query.has("typed_in") || Object.values(readings).some((text) => text.trim() !== "");
}

/**
 * The fields of an address (`?ambient=85&low=35&high=200`), each as it was typed. A change of units rewrites nothing: a
 * bare number gets the unit that it was typed in (`typed_in`, `typed_gauge`), so that it goes on meaning the same.
 */
export function readingsOfAddress(query: URLSearchParams): ReadingsFields {
  const text = (name: keyof ReadingsFields) => query.get(name) ?? BLANK[name];
  const units = oneOf(UNIT_SYSTEMS, query.get("units")) ?? BLANK.units;
  const gauge = oneOf(PRESSURE_UNITS, query.get("gauge")) ?? usualGauge(units);
  const typed_in = oneOf(UNIT_SYSTEMS, query.get("typed_in")) ?? units;
  const typed_gauge = oneOf(PRESSURE_UNITS, query.get("typed_gauge")) ?? gauge;
  const temperature = (typed: string) => withUnit(typed, typed_in === units ? null : typed_in === "us" ? "°F" : "°C");
  const mass = (typed: string) => withUnit(typed, typed_in === units ? null : typed_in === "us" ? "oz" : "g");
  const length = (typed: string) => withUnit(typed, typed_in === units ? null : typed_in === "us" ? "ft" : "m");
  const pressure = (typed: string) => withUnit(typed, typed_gauge === gauge ? null : TYPED_PRESSURE_UNIT[typed_gauge]);
  return {
    units,
    gauge,
    refrigerant: text("refrigerant"),
    ambient: temperature(text("ambient")),
    humidity: text("humidity"),
    altitude: length(text("altitude")),
    nameplate: mass(text("nameplate")),
    static: pressure(text("static")),
    low: pressure(text("low")),
    high: pressure(text("high")),
    rpm: text("rpm"),
    vent: temperature(text("vent")),
    clutch: text("clutch"),
    fan: text("fan"),
    condenser: text("condenser"),
    more_air: text("more_air"),
    suction_line: temperature(text("suction_line")),
    liquid_line: temperature(text("liquid_line")),
    equalizing: text("equalizing"),
    sight_glass: text("sight_glass"),
    metering: text("metering"),
    compressor: text("compressor"),
  };
}

/** The address of an empty form in these units, at the same altitude. */
export function addressOfUnits({ units, gauge, altitude, refrigerant }: ReadingsFields): string {
  return `/readings?${new URLSearchParams({ units, gauge, refrigerant, ...(altitude === "" ? {} : { altitude }) })}`;
}

/** How the gauges of these readings show a pressure. */
export function gaugeStyleOf({ units, gauge }: ReadingsFields, { altitude_m }: Readings): GaugeStyle {
  return { units, gauge, atmosphere_kpa: atmosphereKpa(altitude_m ?? 0) };
}

const AMBIENT_NEEDED = "Enter the air temperature, like 85 °F or 29 °C: every reading is judged by it";

/** Reads the fields; what cannot be read, and the air temperature if it is missing, is named at its field. */
export function readReadingsForm(fields: ReadingsFields): ReadingsQuestion {
  const refusals = new Refusals();
  const refuse = (field: string, message: string) => refusals.refuse(field, message) ?? null;

  const temperature = (field: "ambient" | "vent" | "suction_line" | "liquid_line") => {
    const typed = fields[field];
    if (typed.trim() === "") return field === "ambient" ? refuse(field, AMBIENT_NEEDED) : null;
    const { min, max } = readingBounds[`${field}_c`];
    const parsed = parseTemperature(typed, fields.units);
    if (!parsed.ok) return refuse(field, parsed.message);
    if (parsed.t_c >= min && parsed.t_c <= max) return parsed.t_c;
    const [from, to] = [min, max].map((t_c) => formatTemperature(t_c, fields.units));
    return refuse(field, `Enter a temperature from ${from} to ${to}`);
  };
  const altitude_m = readAltitude(fields, refuse);
  const atmosphere_kpa = atmosphereKpa(altitude_m ?? 0);
  const pressure = (field: "static" | "low" | "high") => {
    const typed = fields[field];
    if (typed.trim() === "") return null;
    const parsed = parsePressure(typed, fields.gauge, atmosphere_kpa);
    if (!parsed.ok) return refuse(field, parsed.message);
    if (parsed.p_kpa <= readingBounds[`${field}_kpa`].max) return parsed.p_kpa;
    return refuse(field, "No gauge set reads that high. Check the number and its unit, like 35 psi or 240 kPa");
  };
  const number = (
    field: "humidity" | "rpm" | "equalizing",
    { min, max }: { min: number; max: number },
    message: string,
  ) => {
    const typed = fields[field];
    if (typed.trim() === "") return null;
    const value = typedNumber((plainText(typed) ?? "").replace(/ ?(%|rpm|s|sec|seconds)$/, ""));
    return typeof value === "number" && value >= min && value <= max ? value : refuse(field, message);
  };
  const choice = <const T extends string>(field: keyof ReadingsFields, choices: readonly T[], message: string) => {
    if (fields[field] === "") return null;
    return oneOf(choices, fields[field]) ?? refuse(field, message);
  };

  const refrigerant =
    oneOf(REFRIGERANTS, fields.refrigerant) ??
    refuse("refrigerant", "Choose the refrigerant; it is on a label under the hood");
  const readings = {
    ambient_c: temperature("ambient"),
    humidity_percent: number("humidity", readingBounds.humidity_percent, "Enter the humidity in percent, like 50"),
    altitude_m,
    nameplate_g: isEmpty(fields.nameplate)
      ? null
      : (readNameplate(fields.nameplate, fields.units) ??
        refuse("nameplate", "Enter the nameplate charge, like 23 oz or 650 g, or leave it empty")),
    static_kpa: pressure("static"),
    low_kpa: pressure("low"),
    high_kpa: pressure("high"),
    engine_rpm: number("rpm", readingBounds.engine_rpm, "Enter the engine speed, like 800, or leave it empty"),
    vent_c: temperature("vent"),
    clutch: choice("clutch", CLUTCH, "Choose what the clutch does, or leave it not looked at"),
    fan: choice("fan", FAN, "Choose what the fan does, or leave it not looked at"),
    condenser: choice("condenser", CONDENSER, "Choose how the condenser looks, or leave it not looked at"),
    more_air: choice("more_air", MORE_AIR, "Choose what the high side does, or leave it not looked at"),
    suction_line_c: temperature("suction_line"),
    liquid_line_c: temperature("liquid_line"),
    equalizing_s: number("equalizing", readingBounds.equalizing_s, "Enter the seconds, like 90, or leave it empty"),
    sight_glass: choice("sight_glass", SIGHT_GLASS, "Choose what the sight glass shows, or leave it not looked at"),
    metering: choice("metering", METERING, "Choose the metering device, or leave it not known"),
    compressor: choice("compressor", COMPRESSOR, "Choose the compressor, or leave it not known"),
  };
  const { ambient_c } = readings;
  const errors = refusals.inOrder(Object.keys(BLANK));
  if (refrigerant === null || ambient_c === null || errors.length > 0) {
    return { fields, errors, readings: null };
  }
  return { fields, errors, readings: { ...readings, refrigerant, ambient_c } };
}

function readAltitude({ altitude, units }: ReadingsFields, refuse: (field: string, message: string) => null) {
  if (altitude.trim() === "") return null;
  const parsed = parseAltitude(altitude, units);
  if (!parsed.ok) return refuse("altitude", parsed.message);
  const { min, max } = readingBounds.altitude_m;
  if (parsed.altitude_m >= min && parsed.altitude_m <= max) return parsed.altitude_m;
  return refuse("altitude", "Enter an altitude up to 16,400 ft (5000 m), like 5200 ft or 1600 m");
}
