import { Validator } from "@seriousme/openapi-schema-validator";
import { Ajv2020, type ValidateFunction } from "ajv/dist/2020.js";
import addFormats from "ajv-formats";
import fc from "fast-check";
import { beforeAll, describe, expect, test } from "vitest";
import { createApp } from "../../../src/app.ts";
import { assess } from "../../../src/core/assess.ts";
import { judgeReadings } from "../../../src/core/readings/judge.ts";
import {
  CLUTCH,
  COMPRESSOR,
  CONDENSER,
  FAN,
  METERING,
  MORE_AIR,
  SIGHT_GLASS,
} from "../../../src/core/readings/readings-contract.ts";
import { openDatabase } from "../../../src/store/migrations.ts";
import type { App } from "../../../src/web/edge/deps.ts";
import { newStore, random } from "../../store/engines.ts";
import { CAN, DYE_CLEAN, TRUCK, VAN } from "../../store/samples.ts";
import { testDeps } from "../../support/deps.ts";
import { bearer } from "../../support/links-app.ts";
import { validRequests } from "../../support/requests.ts";

/** The description is held against two independent readers: a validator of OpenAPI, and one of JSON Schema 2020-12. */

const described = await documentOf(createApp(testDeps()));

interface Described {
  paths: Record<string, Record<string, { operationId: string }>>;
  [part: string]: unknown;
}

async function documentOf(app: App): Promise<Described> {
  return (await app.request("/api/openapi.json")).json() as Promise<Described>;
}

const ajv = new Ajv2020({ strict: true, allowUnionTypes: true, allErrors: true });
addFormats.default(ajv);
// What OpenAPI has around the schemas is no keyword of JSON Schema.
ajv.addVocabulary(["openapi", "info", "servers", "security", "paths", "webhooks", "components"]);
ajv.addSchema({ $id: "api", ...described });

function schema(name: string): ValidateFunction {
  return ajv.compile({ $ref: `api#/components/schemas/${name}` });
}

function expectFits(name: string, value: unknown): void {
  const fits = schema(name);
  fits(JSON.parse(JSON.stringify(value)));
  expect(fits.errors ?? []).toEqual([]);
}

test("is OpenAPI 3.1", async () => {
  const validator = new Validator();
  const { valid, errors } = await validator.validate(structuredClone(described));
  expect(errors ?? []).toEqual([]);
  expect(valid).toBe(true);
  expect(validator.version).toBe("3.1");
});

test("every address of the API is described, and nothing else", () => {
  const routes = createApp(testDeps())
    .routes.filter(({ method, path }) => method !== "ALL" && path.startsWith("/api/"))
    .map(({ method, path }) => `${method} ${path.replace(/:(\w+)/g, "{$1}")}`);
  const operations = Object.entries(described.paths).flatMap(([path, methods]) =>
    Object.keys(methods).map((method) => `${method.toUpperCase()} ${path}`),
  );
  expect(new Set(operations)).toEqual(new Set(routes));
  expect(new Set(operations).size).toBe(operations.length);
});

test("every operation has an id of its own", () => {
  const ids = Object.values(described.paths).flatMap((methods) =>
    Object.values(methods).map(({ operationId }) => operationId),
  );
  expect(new Set(ids).size).toBe(ids.length);
});

test("GET /api/openapi.json gives it, and says when it is known already", async () => {
  const app = createApp(testDeps());
  const answer = await app.request("/api/openapi.json");
  expect(answer.headers.get("Content-Type")).toBe("application/json");
  expect(await answer.json()).toEqual(described);
  const headers = { "If-None-Match": answer.headers.get("ETag") ?? "" };
  const again = await app.request("/api/openapi.json", { headers });
  expect([again.status, await again.text()]).toEqual([304, ""]);
});

const UPSERT = {
  source: "workshop",
  vehicles: [{ external_id: "b1", label: "Bus 1", refrigerant: "R-134a", nameplate_g: 4000, depot: null }],
  events: [
    { external_id: "w1", vehicle: "b1", ...CAN },
    { external_id: "w2", vehicle: "b9", ...CAN },
  ],
};

describe("the schemas fit what is sent and told", () => {
  test("by the model", () => {
    const fits = schema("AssessAnswer");
    const takes = schema("AssessRequest");
    fc.assert(
      fc.property(validRequests({ max_entries: 4 }), (request) => {
        expect(takes(JSON.parse(JSON.stringify(request))), JSON.stringify(takes.errors)).toBe(true);
        expect(fits(JSON.parse(JSON.stringify(assess(request)))), JSON.stringify(fits.errors)).toBe(true);
      }),
      { numRuns: 60 },
    );
  });

  test("by the readings", () => {
    const fits = schema("ReadingsAnswer");
    const takes = schema("Readings");
    const maybe = <T>(value: fc.Arbitrary<T>) => fc.option(value, { nil: null });
    const within = (min: number, max: number) => maybe(fc.double({ min, max, noNaN: true }));
    const readings = fc.record({
      refrigerant: fc.constantFrom("R-134a" as const, "R-1234yf" as const, "R-12" as const),
      ambient_c: within(5, 45),
      static_kpa: within(100, 2000),
      nameplate_g: within(300, 2000),
      low_kpa: within(100, 1000),
      high_kpa: within(300, 3000),
      vent_c: within(0, 40),
      clutch: maybe(fc.constantFrom(...CLUTCH)),
      fan: maybe(fc.constantFrom(...FAN)),
      condenser: maybe(fc.constantFrom(...CONDENSER)),
      more_air: maybe(fc.constantFrom(...MORE_AIR)),
      suction_line_c: within(-10, 40),
      liquid_line_c: within(10, 70),
      equalizing_s: within(0, 600),
      sight_glass: maybe(fc.constantFrom(...SIGHT_GLASS)),
      metering: maybe(fc.constantFrom(...METERING)),
      compressor: maybe(fc.constantFrom(...COMPRESSOR)),
    });
    fc.assert(
      fc.property(readings, (given) => {
        expect(takes(JSON.parse(JSON.stringify(given))), JSON.stringify(takes.errors)).toBe(true);
        expect(fits(JSON.parse(JSON.stringify(judgeReadings(given)))), JSON.stringify(fits.errors)).toBe(true);
      }),
    );
  });

  describe("by the records", () => {
    let answers: Record<string, unknown>;
    beforeAll(async () => {
      const sql = await openDatabase(":memory:");
      const app = createApp(testDeps({ sql: () => sql, access_mode: "links", random }));
      const { headers } = await bearer(await newStore(sql), "editor");
      const ask = async (path: string, body?: object) => {
        const sent = body === undefined ? {} : { method: "POST", body: JSON.stringify(body) };
        const answer = await app.request(path, {
          headers: { ...headers, "Content-Type": "application/json" },
          ...sent,
        });
        return answer.json();
      };
      const records = { charge_log: [CAN, { date: "2026-04-21", dye: "added", note: "x" }], findings: [DYE_CLEAN] };
      const sent = { ...TRUCK, ...records, notes: [{ body: "hissed" }] };
      const vehicle = (await ask("/api/vehicles", sent)) as { id: string };
      const of = (path: string) => ask(`/api/vehicles/${vehicle.id}/${path}`);
      answers = {
        NewVehicle: sent,
        VehicleInput: VAN,
        Vehicle: vehicle,
        VehiclePage: await ask("/api/vehicles"),
        ChargeEntryInput: CAN,
        ChargePage: await of("charge-log"),
        FindingInput: DYE_CLEAN,
        FindingPage: await of("history/findings"),
        NotePage: await of("notes"),
        VehicleAssessment: await of("assessment"),
        FleetUpsert: UPSERT,
        FleetUpsertAnswer: await ask("/api/fleet/records", UPSERT),
        FleetAnswerPage: await ask("/api/fleet/answers"),
        FleetPredictions: await ask("/api/fleet/predictions"),
        Error: await ask("/api/vehicles", {}),
      };
    });

    test.each([
      "NewVehicle",
      "VehicleInput",
      "Vehicle",
      "VehiclePage",
      "ChargeEntryInput",
      "ChargePage",
      "FindingInput",
      "FindingPage",
      "NotePage",
      "VehicleAssessment",
      "FleetUpsert",
      "FleetUpsertAnswer",
      "FleetAnswerPage",
      "FleetPredictions",
      "Error",
    ])("%s", (name) => {
      expectFits(name, answers[name]);
    });

    test("and no other", () => {
      expect(schema("Vehicle")(answers.NewVehicle)).toBe(false);
      expect(schema("ChargeEntryInput")({ ...CAN, amount: 3 })).toBe(false);
      expect(schema("Error")({ message: "no" })).toBe(false);
    });
  });
});
