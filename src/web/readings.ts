import { Hono } from "hono";
import { html } from "hono/html";
import { ReadingsPage } from "../../views/readings/page.tsx";
import type { Readings, ReadingsAnswer } from "../core/readings/contract.ts";
import { judgeReadings } from "../core/readings.ts";
import type { AppEnv, Deps } from "./deps.ts";
import { addressOfUnits, isUntouched, readingsOfAddress, readReadingsForm } from "./readings-form.ts";

/** `GET /readings`: gauge and vent readings, and what they mean. All that was typed is in the address. */
export function readingsRoutes(deps: Deps) {
  return new Hono<AppEnv>().get("/readings", (c) => {
    const fields = readingsOfAddress(new URL(c.req.url).searchParams);
    const question = isUntouched(fields) ? { fields, errors: [], readings: null } : readReadingsForm(fields);
    const judged = judge(question.readings);
    const errors = [...question.errors, ...askedFor(judged?.answer)];
    const page = ReadingsPage({ fields, errors, judged, empty: addressOfUnits(fields), asset: deps.asset });
    return c.html(html`<!DOCTYPE html>${page}`, errors.length > 0 ? 422 : 200);
  });
}

function judge(readings: Readings | null): { readings: Readings; answer: ReadingsAnswer } | null {
  return readings === null ? null : { readings, answer: judgeReadings(readings) };
}

/** What the core asks for, as an error at the field. */
function askedFor(answer: ReadingsAnswer | undefined) {
  if (answer?.kind !== "question") return [];
  return [
    { field: "ambient", message: "Enter the air temperature, like 85 °F or 29 °C: every reading is judged by it" },
  ];
}
