import { type Context, Hono } from "hono";
import { outcomeOf } from "../../../views/answer/outcome.ts";
import type { EntryFields } from "../../../views/vehicles/record/entry-fields.ts";
import { VehicleTopOffPage } from "../../../views/vehicles/top-off-page.tsx";
import { formatDate } from "../../core/quantities/dates.ts";
import { formatTemperature } from "../../core/quantities/format.ts";
import type { UnitSystem } from "../../core/quantities/units.ts";
import { questionOf } from "../../core/question/question.ts";
import { readingsSaid } from "../../core/readings/said.ts";
import { type TopOffPlan, topOffPlan } from "../../core/top-off-plan.ts";
import { mayAct } from "../../store/roles.ts";
import { type JudgedReadings, judgedReadings, placeSaid, type VehicleRecord } from "../../store/vehicle-record.ts";
import { type GrantedEnv, requireRole } from "../edge/access.ts";
import type { AppEnv, Deps } from "../edge/deps.ts";
import { answerPage } from "../edge/page.ts";
import { newSubmitKey } from "../forms/posted-form.ts";
import { plannedAmount } from "../top-off/planned-amount.ts";
import { readTopOffForm, type TopOffQuestion } from "../top-off/top-off-form.ts";
import { vehicleRequest, vehicleSurroundings } from "../vehicle-answer.ts";
import { gaugesOf, placeOf, todayIn, unitsOf } from "../workspace.ts";
import { briefAnswer } from "./brief-answer.ts";
import { entryFieldsOf } from "./entry-form.ts";

/**
 * `GET /vehicles/:id/top-off`: how much is missing by the record, what to buy, how to add it, and a form to write it
 * down, which goes into the charge log like any other entry.
 */
export function vehicleTopOffRoutes(deps: Deps) {
  return new Hono<AppEnv>().get(
    "/vehicles/:id/top-off",
    requireRole("viewer"),
    async (c: Context<AppEnv & GrantedEnv>) => {
      const { store, access } = c.var;
      const id = c.req.param("id")!;
      const record = await store.record(id);
      const { workspace, vehicle } = record;
      const today = todayIn(workspace, deps.now());
      const request = vehicleRequest(record, today);
      const answer = await briefAnswer(deps.model, store, id, request);
      const { refrigerant, nameplate_g, prices, assumptions } = questionOf(request);
      const units = unitsOf(workspace);
      const gaugeStyle = gaugesOf(workspace);
      const read = judgedReadings(record, today);
      const query = new URL(c.req.url).searchParams;
      const asked = topOffQuestion(record, query, {
        today,
        read,
        seal: prices.can_seal,
        temperatures: gaugeStyle.units,
      });
      const plan = topOffPlan({
        date: today,
        refrigerant,
        nameplate_g,
        charge_now_g: answer.leak.charge_now_g,
        low_below_g: answer.leak.low_below_g,
        too_fast: answer.verdict.guard === "floor",
        can_net_g: prices.can_net_g,
        heel: assumptions.heel,
        ...asked,
      });
      const page = VehicleTopOffPage({
        vehicle,
        plan,
        outcome: outcomeOf(request, answer, units, vehicleSurroundings(record, request)),
        gaugeStyle,
        fields: asked.fields,
        errors: asked.errors,
        read: read === null ? null : { date: read.line.date, id: read.line.id, judgement: read.judgement },
        place: placeOf(placeSaid(record)),
        entry: mayAct(access.role, "editor") ? plannedEntry(plan, today, units) : null,
        submit_key: newSubmitKey(deps.random),
        asset: deps.asset,
      });
      return answerPage(c, page, asked.errors.length > 0 ? 422 : 200);
    },
  );
}

interface Known {
  today: string;
  read: JudgedReadings | null;
  seal: string;
  temperatures: UnitSystem;
}

/**
 * The top-off question: from the query; the vehicle's record fills gaps, and overrides place and compressor.
 */
function topOffQuestion(record: VehicleRecord, query: URLSearchParams, known: Known): TopOffQuestion {
  const { today, read, seal, temperatures } = known;
  const filled = new URLSearchParams(query);
  // Asked here only where the settings do not say it.
  const { vehicle } = record;
  const place = placeOf(placeSaid(record));
  if (place !== "elsewhere" || !filled.has("where")) filled.set("where", place);
  if (vehicle.electric_compressor) filled.set("compressor", "electric");
  if (!filled.has("seal")) filled.set("seal", seal);
  if (read === null) return readTopOffForm(filled, temperatures);
  if (!filled.has("ambient") && read.line.date === today) {
    filled.set("ambient", formatTemperature(read.line.ambient_c, temperatures));
  }
  const { says, found } = readingsSaid(read.judgement);
  filled.set("says", says);
  const standing = read.judgement.static;
  const vapor_g = standing?.state === "no-liquid" ? standing.grams : null;
  return { ...readTopOffForm(filled, temperatures), found, vapor_g };
}

/** The entry that the plan comes to, to be corrected by what was done; null when nothing goes in. */
function plannedEntry({ cans, deposit, log_entry }: TopOffPlan, today: string, units: UnitSystem): EntryFields | null {
  if (cans === null || log_entry === null) return null;
  return {
    ...entryFieldsOf(new URLSearchParams()),
    when: formatDate(today),
    added: plannedAmount(cans.out_of_cans_g, units),
    finish: log_entry.finish ?? "",
    cans: String(cans.buy),
    deposit: deposit === null ? "" : String(deposit.per_can * cans.buy),
    return_by: deposit === null ? "" : formatDate(deposit.return_by),
  };
}
