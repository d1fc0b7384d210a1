import { type Context, Hono } from "hono";
import { ReadingsPage } from "../../../views/readings/page.tsx";
import { judgeReadings } from "../../core/readings/judge.ts";
import type { Readings } from "../../core/readings/readings-contract.ts";
import { readingsSaid } from "../../core/readings/said.ts";
import type { AppEnv, Deps } from "../edge/deps.ts";
import { FOR_ALL, sharedPages } from "../edge/kept-pages.ts";
import { addressOfFields, blankFields, carriedAlong, fieldsOfAddress } from "../start/quick-address.ts";
import { addressOfUnits, gaugeStyleOf, isAsked, readingsOfAddress, readReadingsForm } from "./readings-form.ts";

/**
 * `GET /readings`: gauge and vent readings, and what they mean. All that was typed is in the address, and so is the
 * quick question that they were taken for, if there is one.
 */
export function readingsRoutes(deps: Deps) {
  const shared = sharedPages(deps);
  return new Hono<AppEnv>().get("/readings", (c) => shared(c, FOR_ALL, () => answerOf(c)));

  function answerOf(c: Context<AppEnv>) {
    const query = new URL(c.req.url).searchParams;
    const today = deps.today(c);
    const fields = readingsOfAddress(query);
    const question = query.has("as_of") ? fieldsOfAddress(query, today) : null;
    const { errors, readings } = isAsked(query, fields) ? readReadingsForm(fields) : { errors: [], readings: null };
    const page = ReadingsPage({
      fields,
      errors,
      judged: readings === null ? null : judgedFor(readings),
      sent_along: question === null ? [] : carriedAlong(addressOfFields(question), ASKED_HERE),
      empty: question === null ? addressOfUnits(fields) : addressOfFields(question).replace("/?", "/readings?"),
      asset: deps.asset,
    });
    return { view: page, status: errors.length > 0 ? 422 : 200 } as const;

    function judgedFor(readings: Readings & { ambient_c: number }) {
      const judgement = judgeReadings(readings);
      if (judgement.kind !== "judgement") return null;
      const { says, found } = readingsSaid(judgement);
      const { units, refrigerant, nameplate } = fields;
      const asked = { ...(question ?? blankFields(today)), units, refrigerant, nameplate, says, found: found ?? "" };
      const answer = addressOfFields(asked);
      return {
        readings,
        judgement,
        gaugeStyle: gaugeStyleOf(fields, readings),
        onward: { answer, plan: question === null ? null : planAddress(answer), has_question: question !== null },
      };
    }

    /** The top-off plan gets the day's temperature, and the static pressure, which may show that no liquid is left. */
    function planAddress(answer: string): string {
      const read = new URLSearchParams({ ambient: fields.ambient });
      if (fields.static.trim() !== "") {
        for (const name of ["static", "gauge", "altitude"] as const) read.set(name, fields[name]);
      }
      return `${answer.replace("/?", "/top-off?")}&${read}`;
    }
  }
}

/** Fields of the quick question that this form asks for itself, or that come from earlier readings. */
const ASKED_HERE = ["units", "refrigerant", "nameplate", "says", "found"];
