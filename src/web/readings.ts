import { Hono } from "hono";
import { html } from "hono/html";
import { ReadingsPage } from "../../views/readings/page.tsx";
import { judgeReadings } from "../core/readings.ts";
import type { AppEnv, Deps } from "./deps.ts";
import { addressOfUnits, isAsked, readingsOfAddress, readReadingsForm, sayerOf } from "./readings-form.ts";

/** `GET /readings`: gauge and vent readings, and what they mean. All that was typed is in the address. */
export function readingsRoutes(deps: Deps) {
  return new Hono<AppEnv>().get("/readings", (c) => {
    const query = new URL(c.req.url).searchParams;
    const fields = readingsOfAddress(query);
    const { errors, readings } = isAsked(query, fields) ? readReadingsForm(fields) : { errors: [], readings: null };
    const answer = readings === null ? null : judgeReadings(readings);
    const judged =
      readings !== null && answer?.kind === "judgement"
        ? { readings, judgement: answer, sayer: sayerOf(fields, readings) }
        : null;
    const page = ReadingsPage({ fields, errors, judged, empty: addressOfUnits(fields), asset: deps.asset });
    return c.html(html`<!DOCTYPE html>${page}`, errors.length > 0 ? 422 : 200);
  });
}
