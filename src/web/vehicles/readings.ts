import { type Context, Hono } from "hono";
import { Entry } from "../../../views/parts/entry.tsx";
import { JudgedSet } from "../../../views/vehicles/record/judged-set.tsx";
import { LinePage } from "../../../views/vehicles/record/line-page.tsx";
import { ReadingsTable, type ShownReadings } from "../../../views/vehicles/record/readings.tsx";
import { VehicleReadingsForm } from "../../../views/vehicles/record/readings-form.tsx";
import { vehiclePath } from "../../../views/vehicles/record/record.ts";
import { SaidReadingsLine } from "../../../views/vehicles/record/said-line.tsx";
import { countingReadings } from "../../core/readings/counting.ts";
import type { ReadingsEntry, ReadingsInput, ReadingsLine } from "../../core/readings/record.ts";
import { atmosphereKpa } from "../../core/refrigerant/atmosphere.ts";
import { mayAct } from "../../store/roles.ts";
import { judgedLine, type VehicleRecord } from "../../store/vehicle-record.ts";
import { type GrantedEnv, requireRole } from "../edge/access.ts";
import type { AppEnv, Deps } from "../edge/deps.ts";
import { answerPage } from "../edge/page.ts";
import { newSubmitKey } from "../forms/posted-form.ts";
import { type About, aboutVehicle } from "./about.ts";
import type { LedgerPages } from "./ledger/ledgers.ts";
import { blankReadings, readingsFieldsOf, readVehicleReadings, typedReadings } from "./readings-form.ts";

const HEADING = "Is it low at all?";
const LEAD =
  "Nearly half of all poor cooling is not caused by low charge, and adding refrigerant then does harm. Enter the readings you have. Only the air temperature is required.";

/** Readings as a ledger of the vehicle: each set has its own page, which says what it means. */
export const readingsPages: LedgerPages<ReturnType<typeof readingsFieldsOf>, ReadingsEntry, ReadingsInput> = {
  name: "readings",
  of: ({ readings }) => readings,
  blank: blankReadings,
  fields: readingsFieldsOf,
  typed: typedReadings,
  read: readVehicleReadings,
  form: (fields, messages, { vehicle }) => VehicleReadingsForm({ vehicle, fields, messages }),
  said: (line, { gauges }) => SaidReadingsLine({ line, gaugeStyle: gauges }),
  looks: "viewer",
  around: (line, about) => ({ heading: HEADING, lead: LEAD, above: line === null ? null : judgedSet(line, about) }),
  stored: ({ vehicle_id, id }) => vehiclePath(vehicle_id, "readings", id),
};

function judgedSet(line: ReadingsLine, { vehicle, gauges }: About) {
  const { readings, judgement } = judgedLine(vehicle, line);
  const gaugeStyle = { ...gauges, atmosphere_kpa: atmosphereKpa(line.altitude_m ?? 0) };
  return JudgedSet({ vehicle, judged: { readings, judgement, gaugeStyle } });
}

/** `GET /vehicles/:id/readings`: a form for new ones, and those before. */
export function vehicleReadingsRoutes(deps: Deps) {
  return new Hono<AppEnv>().get(
    "/vehicles/:id/readings",
    requireRole("viewer"),
    async (c: Context<AppEnv & GrantedEnv>) => {
      const id = c.req.param("id")!;
      const { store, access } = c.var;
      const [record, { about }] = await Promise.all([store.record(id), aboutVehicle(store, id, deps.now())]);
      const readings = shownReadings(record, about.today);
      const may_edit = mayAct(access.role, "editor");
      const fields = blankReadings(new URL(c.req.url).searchParams, about);
      const page = LinePage({
        vehicle: record.vehicle,
        ledger: "readings",
        heading: HEADING,
        lead: LEAD,
        form: may_edit ? readingsPages.form(fields, new Map(), about) : null,
        below:
          readings.length === 0
            ? null
            : Entry({
                name: "Read before",
                children: ReadingsTable({ vehicle_id: id, readings, gaugeStyle: about.gauges }),
              }),
        errors: [],
        submit_key: newSubmitKey(deps.random),
        lines: [],
        conflict: null,
        time_zone: record.workspace.time_zone,
        asset: deps.asset,
      });
      return answerPage(c, page);
    },
  );
}

/** The readings of a vehicle and what they mean, newest first. */
export function shownReadings({ vehicle, readings, charge_log }: VehicleRecord, today: string): ShownReadings[] {
  const counting = countingReadings(readings, charge_log, today);
  return readings
    .map((line) => ({ line, judgement: judgedLine(vehicle, line).judgement, counts: line === counting }))
    .toReversed();
}
