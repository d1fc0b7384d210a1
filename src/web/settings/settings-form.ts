import { CLIMATES } from "../../../data/climates.ts";
import { CURRENCIES } from "../../../data/currencies.ts";
import { planParameters, requestBounds } from "../../../data/parameters.ts";
import { OWN_CLIMATE, type SettingsFields } from "../../../views/settings/settings-fields.ts";
import { parseTemperature } from "../../core/quantities/parse-reading.ts";
import { fahrenheitFromCelsius, WORKSPACE_PRESSURE_UNITS } from "../../core/quantities/units.ts";
import { GWP_SETS, SERVICES } from "../../core/question/contract.ts";
import { MAX_LABEL_CHARS } from "../../core/question/record.ts";
import { isPlace } from "../../core/rules/rules.ts";
import { MASS_UNITS, type Settings, TEMPERATURE_UNITS, type TemperatureUnit } from "../../store/workspaces.ts";
import { isTimeZone } from "../edge/time-zones.ts";
import { type Read, Refusals } from "../forms/form-reading.ts";
import { typedFields } from "../forms/posted-form.ts";
import { isEmpty, oneOf, readMoney } from "../forms/typed-values.ts";

/** Form value for "no place chosen". */
const ELSEWHERE = "elsewhere";

/** The settings as their form shows them. */
export function settingsFields(settings: Settings): SettingsFields {
  const { name, mass_unit, temperature_unit, pressure_unit, currency, place, climate, monthly_mean_c } = settings;
  return {
    name,
    mass_unit,
    temperature_unit,
    pressure_unit,
    currency,
    service: settings.plan.service ?? "",
    keep_years: settings.plan.keep_years == null ? "" : String(settings.plan.keep_years),
    gwp: settings.plan.gwp ?? "",
    place: place ?? ELSEWHERE,
    climate: monthly_mean_c !== null ? OWN_CLIMATE : (climate ?? ""),
    means: monthly_mean_c === null ? "" : typedMeans(monthly_mean_c, temperature_unit),
    time_zone: settings.time_zone,
  };
}

const FIELDS = [
  "name",
  "mass_unit",
  "temperature_unit",
  "pressure_unit",
  "currency",
  "service",
  "keep_years",
  "gwp",
  "place",
  "climate",
  "means",
  "time_zone",
] as const satisfies readonly (keyof SettingsFields)[];

/** The fields of the settings as a form sent them. */
export function settingsOfForm(form: URLSearchParams): SettingsFields {
  return typedFields(form, FIELDS);
}

/** Parses the form; settings that it does not contain stay. Errors are in the order of the fields. */
export function readSettings(fields: SettingsFields, current: Settings): Read<Settings> {
  const refusals = new Refusals();
  const refuse: Refuse = refusals.refuse;
  const name = readName(fields.name) ?? refuse("name", `Enter a name of 1 to ${MAX_LABEL_CHARS} characters`);
  const mass_unit = oneOf(MASS_UNITS, fields.mass_unit) ?? refuse("mass_unit", "Choose how masses are shown");
  const temperature_unit =
    oneOf(TEMPERATURE_UNITS, fields.temperature_unit) ?? refuse("temperature_unit", "Choose °F or °C");
  const pressure_unit =
    oneOf(WORKSPACE_PRESSURE_UNITS, fields.pressure_unit) ?? refuse("pressure_unit", "Choose what your gauges show");
  const currency =
    fields.currency === current.currency || CURRENCIES.includes(fields.currency)
      ? fields.currency
      : refuse("currency", "Choose the currency");
  const gwp = fields.gwp === "" ? null : (oneOf(GWP_SETS, fields.gwp) ?? refuse("gwp", "Choose how CO₂e is counted"));
  const service =
    fields.service === "" ? null : (oneOf(SERVICES, fields.service) ?? refuse("service", "Choose who tops off"));
  const keep_years = isEmpty(fields.keep_years)
    ? null
    : (readYears(fields.keep_years) ?? refuse("keep_years", `Enter years from ${KEPT.min} to ${KEPT.max}, like 5`));
  const place = isPlace(fields.place) ? fields.place : refuse("place", "Choose where the vehicles are");
  const climate = readClimate(fields, current, temperature_unit ?? current.temperature_unit, refuse);
  const time_zone = isTimeZone(fields.time_zone) ? fields.time_zone : refuse("time_zone", "Choose the time zone");
  if (
    name === undefined ||
    mass_unit === undefined ||
    temperature_unit === undefined ||
    pressure_unit === undefined ||
    currency === undefined ||
    gwp === undefined ||
    service === undefined ||
    keep_years === undefined ||
    place === undefined ||
    climate === undefined ||
    time_zone === undefined
  )
    return { ok: false, errors: refusals.all() };
  const chosen = { name, mass_unit, temperature_unit, pressure_unit, currency, time_zone, ...climate };
  const { gwp: _gwp, service: _service, keep_years: _years, ...others } = current.plan;
  const said = Object.entries({ gwp, service, keep_years }).filter(([, value]) => value !== null);
  return {
    ok: true,
    input: {
      ...current,
      ...chosen,
      plan: { ...others, ...Object.fromEntries(said) },
      place: place === ELSEWHERE ? null : place,
    },
  };
}

const KEPT = planParameters.keep_years;

function readYears(typed: string): number | undefined {
  const years = readMoney(typed);
  return years !== undefined && years >= KEPT.min && years <= KEPT.max ? years : undefined;
}

function readName(typed: string): string | undefined {
  const name = typed.trim();
  return name === "" || [...name].length > MAX_LABEL_CHARS ? undefined : name;
}

type Refuse = (field: keyof SettingsFields, message: string) => undefined;

function readClimate(
  { climate, means }: SettingsFields,
  current: Settings,
  unit: TemperatureUnit,
  refuse: Refuse,
): Pick<Settings, "climate" | "monthly_mean_c"> | undefined {
  if (climate === "") return { climate: null, monthly_mean_c: null };
  if (climate !== OWN_CLIMATE) {
    const preset = CLIMATES.find(({ id }) => id === climate);
    return preset === undefined
      ? refuse("climate", "Choose the climate, or leave it not said")
      : { climate: preset.id, monthly_mean_c: null };
  }
  const { monthly_mean_c } = current;
  // The field shows rounded values; an untouched one keeps its precision.
  if (monthly_mean_c !== null && means.trim() === typedMeans(monthly_mean_c, unit))
    return { climate: current.climate, monthly_mean_c };
  const read = readMeans(means, unit);
  return "message" in read ? refuse("means", read.message) : { climate: null, monthly_mean_c: read.monthly_mean_c };
}

/** Twelve temperatures, January first. */
function readMeans(typed: string, unit: TemperatureUnit): { monthly_mean_c: number[] } | { message: string } {
  const { min, max } = requestBounds.monthly_mean_c;
  // A comma before a space separates values; one before a digit is a decimal sign.
  const months = typed
    .split(/[;\s]+/)
    .map((month) => month.replace(/,$/, ""))
    .filter((month) => month !== "");
  if (months.length !== 12)
    return {
      message: `Enter twelve temperatures, January first, with a space between them; these are ${months.length}`,
    };
  const monthly_mean_c: number[] = [];
  for (const month of months) {
    const parsed = parseTemperature(month, unit === "F" ? "us" : "metric");
    if (!parsed.ok || parsed.t_c < min || parsed.t_c > max)
      return { message: `Check “${month}”: enter a monthly mean, like ${unit === "F" ? "54.5" : "12.5"}` };
    monthly_mean_c.push(parsed.t_c);
  }
  return { monthly_mean_c };
}

function typedMeans(monthly_mean_c: readonly number[], unit: TemperatureUnit): string {
  return monthly_mean_c
    .map((t_c) => String(Number((unit === "F" ? fahrenheitFromCelsius(t_c) : t_c).toFixed(1))))
    .join(" ");
}
