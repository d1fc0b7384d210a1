import type { Context } from "hono";
import * as z from "zod";
import { MODEL_VERSION } from "../../core/assess.ts";
import { trackRecord } from "../../core/hindsight/track-record.ts";
import { keyOf, type Page } from "../../store/page.ts";
import type { Deps } from "../edge/deps.ts";
import { jsonBody } from "../edge/json-body.ts";
import { bulkLimit } from "../edge/limits.ts";
import { beginReckoning } from "../fleet/background.ts";
import { entryIssues } from "../schemas/record-input.ts";
import { readUpsert } from "../schemas/upsert-input.ts";
import { todayIn } from "../workspace.ts";
import { paging, uncachedJson, wrongQuery } from "./asked.ts";
import { submitKeyOf } from "./conditions.ts";
import type { FleetPredictions } from "./fleet-answers.ts";
import type { Api } from "./operation.ts";

/** A fleet as other programs keep it up to date, and its answers page by page. */
export function addFleet(api: Api, deps: Deps): void {
  api.add(
    {
      method: "post",
      path: "/api/fleet/records",
      id: "upsertFleet",
      summary:
        "Add or change many vehicles and events under the ids that your program has for them: each item whole or not at all.",
      description: UPSERT,
      role: "editor",
      takes: "FleetUpsert",
      gives: "FleetUpsertAnswer",
      limit: bulkLimit(),
    },
    async (c) => {
      const { store } = c.var;
      const key = submitKeyOf(c);
      const body = await jsonBody(c);
      const workspace = await store.settings.get();
      const today = todayIn(workspace, deps.now());
      const call = readUpsert(body, today);
      const check = (entry: Parameters<typeof entryIssues>[0], vehicle: Parameters<typeof entryIssues>[1]["vehicle"]) =>
        entryIssues(entry, { vehicle, today });
      const { answer, repeated } = await store.fleetUpsert.apply(call, check, key);
      const news = [...answer.vehicles, ...answer.events].some(({ outcome }) => /created|changed/.test(outcome));
      if (news && !repeated) await beginReckoning(deps, store, workspace);
      return uncachedJson(c, answer);
    },
  );
  api.add(
    {
      method: "get",
      path: "/api/fleet/answers",
      id: "listFleetAnswers",
      summary: "The vehicles in use with what was worked out for each, page by page.",
      description: ANSWERS,
      role: "viewer",
      query: ["fleet_group", "depot", "changed_since", "limit", "after"],
      gives: "FleetAnswerPage",
      paged: true,
    },
    async (c) => {
      const { limit, after } = paging(c);
      const { fleet_group, depot } = c.req.query();
      const from = after === null ? null : String(keyOf(openedCursor(after), ["string"])[0]);
      const query = { limit, after: from, fleet_group, depot, changed_since: sinceAsked(c) };
      return pagedJson(c, await c.var.store.fleet.told(query));
    },
  );
  api.add(
    {
      method: "get",
      path: "/api/fleet/predictions",
      id: "readFleetPredictions",
      summary: "How well past charges were predicted from what was known before them: for the fleet and by group.",
      description: PREDICTIONS,
      role: "viewer",
      gives: "FleetPredictions",
    },
    async (c) => {
      const { predictions } = c.var.store;
      const [run, all] = await Promise.all([predictions.run(), predictions.all()]);
      const groups = Map.groupBy(all, ({ vehicle }) => vehicle.fleet_group);
      return uncachedJson(c, {
        as_of: run?.as_of ?? null,
        under_way: run?.under_way ?? false,
        model_version: MODEL_VERSION,
        fleet: trackRecord(all),
        groups: Array.from(groups, ([fleet_group, members]) => ({ fleet_group, record: trackRecord(members) })),
      } satisfies FleetPredictions);
    },
  );
}

const PREDICTIONS =
  "From the workspace's own records. About 90 % of charges should come inside the likely range; `inside` is their share " +
  "with charges that have not come yet counted for as much as they say (Kaplan and Meier), and null where fewer are " +
  "known than it takes to judge. Distances are months between the middle date and the day on which it was low again.";

const UPSERT =
  "Send at most 1,000 items, vehicles and events together. All are checked first; the good ones are stored together, " +
  "and each result says what became of its item: created, changed, same, or refused with where and why and what would " +
  "be right. An id is unique in the workspace for a source and a kind. Of a vehicle, what is absent stays as it is; an " +
  "event is replaced as a whole. A new external id is given to the vehicle here that has the same name, or to the " +
  "event that says the same, as long as this source has no id for it. What is sent again as it was sent before is no " +
  "news: it takes back nothing that was corrected or removed here since. Events may be about vehicles of the same " +
  "call. Under an Idempotency-Key the same call gives the same answer for 30 days and changes nothing; another call " +
  "under that key is refused.";

const ANSWERS =
  "Ordered by id, which never changes: what is added or renamed meanwhile moves no other vehicle to another page. " +
  'The next page is in `next` and in the header Link with rel="next" (RFC 8288).';

/** A page with the address of the one after it, whose cursor says nothing to the caller. */
function pagedJson(c: Context, { items, next }: Page<object>) {
  const cursor = next === null ? null : btoa(next).replaceAll("+", "-").replaceAll("/", "_").replaceAll("=", "");
  if (cursor !== null) {
    const query = new URLSearchParams({ ...c.req.query(), after: cursor });
    c.header("Link", `<${c.req.path}?${query}>; rel="next"`);
  }
  return uncachedJson(c, { items, next: cursor });
}

/** What `pagedJson` made a cursor of; anything else is left for `keyOf` to refuse. */
function openedCursor(cursor: string): string {
  try {
    return atob(cursor.replaceAll("-", "+").replaceAll("_", "/"));
  } catch {
    return "";
  }
}

const instant = z.iso.datetime();

function sinceAsked(c: Context): string | undefined {
  const asked = c.req.query("changed_since");
  if (asked === undefined) return undefined;
  if (instant.safeParse(asked).success) return new Date(asked).toISOString();
  throw wrongQuery("changed_since", "Give an instant in UTC, like 2026-05-01T12:00:00Z.");
}
