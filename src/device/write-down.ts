import { type Context, Hono } from "hono";
import { html } from "hono/html";
import { priceParameters, requestBounds } from "../../data/parameters.ts";
import { WaitingPage } from "../../views/device/waiting-page.tsx";
import { WriteDownPage } from "../../views/device/write-down-page.tsx";
import type { FieldError } from "../../views/parts/error-summary.tsx";
import type { EntryFields } from "../../views/vehicles/record/entry-fields.ts";
import { WAITING_PATH, WRITE_DOWN_PATH } from "../../views/words/on-device.ts";
import { MAX_LABEL_CHARS } from "../core/question/record.ts";
import { calendarDay } from "../web/edge/calendar-day.ts";
import type { AppEnv } from "../web/edge/deps.ts";
import { answerPage } from "../web/edge/page.ts";
import { readWords } from "../web/forms/form-reading.ts";
import { formOf, newSubmitKey } from "../web/forms/posted-form.ts";
import { withUnit } from "../web/forms/typed-values.ts";
import type { About } from "../web/vehicles/about.ts";
import { blankEntry, entryFieldsOf, readBackOfEntry, readEntry } from "../web/vehicles/entry-form.ts";
import type { DeviceDeps } from "./device-deps.ts";
import { withPlainDay } from "./sending.ts";
import { canWait } from "./waiting.ts";

/** What was typed into the form. */
interface Written {
  vehicle: string;
  /** The log it goes to; null: its vehicle is chosen later. */
  path: string | null;
  fields: EntryFields;
}

/**
 * Entries that wait on this device: `/write-down` writes one, for the vehicle whose page was asked for (`?to=` its log)
 * or one that is chosen later; `/waiting` lists them. Nothing about a vehicle is known here: the server reads the entry
 * once more when it arrives.
 */
export function writeDownRoutes(device: DeviceDeps) {
  const { asset, waiting } = device;
  return new Hono<AppEnv>()
    .get(WRITE_DOWN_PATH, (c) => {
      const query = new URL(c.req.url).searchParams;
      return answerForm(c, { vehicle: "", path: pathOf(query), fields: blankEntry(query, about()) });
    })
    .get(`${WRITE_DOWN_PATH}/read-back`, (c) => {
      const { when, added, recovered } = readBackOfEntry(c.req.query(), about());
      return c.html(html`${when ?? added ?? recovered ?? ""}`);
    })
    .post(WRITE_DOWN_PATH, async (c) => {
      const form = await formOf(c);
      const vehicle = form.get("vehicle") ?? "";
      const written = { vehicle, path: pathOf(form), fields: entryFieldsOf(form) };
      const errors = errorsOf(written);
      if (errors.length > 0) return answerForm(c, written, errors);
      await waiting.put({
        key: newSubmitKey(device.random),
        path: written.path,
        vehicle: vehicle.trim(),
        form: withPlainDay(plainForm(written.fields), about().today),
        written_at: device.now().toISOString(),
        problem: null,
      });
      return c.redirect(WAITING_PATH, 303);
    })
    .get(WAITING_PATH, async (c) =>
      answerPage(c, WaitingPage({ entries: await waiting.all(), time_zone: device.time_zone, asset })),
    )
    .post(`${WAITING_PATH}/:key/removal`, async (c) => {
      await waiting.remove(c.req.param("key"));
      return c.redirect(WAITING_PATH, 303);
    });

  function answerForm(c: Context, written: Written, errors: readonly FieldError[] = []) {
    const read_back = readBackOfEntry(written.fields, about());
    return answerPage(c, WriteDownPage({ ...written, errors, read_back, asset }), errors.length > 0 ? 422 : 200);
  }

  function errorsOf({ vehicle, path, fields }: Written): FieldError[] {
    const name = readWords(vehicle, MAX_LABEL_CHARS);
    const read = readEntry(fields, about());
    const of_entry = read.ok ? [] : read.errors;
    if ("message" in name) return [{ field: "vehicle", message: name.message }, ...of_entry];
    return path === null && name.words === null ? [{ field: "vehicle", message: WHICH }, ...of_entry] : of_entry;
  }

  /** A bare number keeps the unit that it was read in here. */
  function plainForm(fields: EntryFields): string {
    const unit = device.units === "us" ? "oz" : "g";
    const masses = ["recovered", "added", "can_before", "can_after"] as const;
    const plain = Object.fromEntries(masses.map((name) => [name, withUnit(fields[name], unit)]));
    return new URLSearchParams(Object.entries({ ...fields, ...plain })).toString();
  }

  /** No vehicle in particular: one so large that no amount is too much for it. */
  function about(): About {
    const refrigerant = "R-134a";
    return {
      vehicle: {
        id: "",
        refrigerant,
        nameplate_g: requestBounds.nameplate_g.max,
        system_volume_ml: null,
        electric_compressor: false,
      },
      can_net_g: priceParameters.can_net_g.default[refrigerant],
      units: device.units,
      currency: "USD",
      gauges: { units: device.units, gauge: device.units === "us" ? "psi-gauge" : "bar-gauge" },
      today: calendarDay(device.now(), device.time_zone),
      date_order: null,
    };
  }
}

const WHICH = "Enter which vehicle it is, in your own words, like the blue van";

/** The log that an address or a form names; null for none, and for anything else. */
function pathOf(said: URLSearchParams): string | null {
  const to = said.get("to");
  return to !== null && canWait(to) ? to : null;
}
