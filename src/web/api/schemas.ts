import * as z from "zod";
import { assessSchema } from "../schemas/assess-schema.ts";
import { customerStored } from "../schemas/customer-schema.ts";
import { quoteStored } from "../schemas/quote-schema.ts";
import { readingsSchema } from "../schemas/readings-schema.ts";
import {
  chargeEntryInput,
  chargeLine,
  findingInput,
  findingLine,
  fleetUpsert,
  newVehicleInput,
  noteInput,
  noteLine,
  readingsInput,
  readingsLine,
  vehicleInput,
  vehicleStored,
} from "../schemas/record-schema.ts";
import {
  apiError,
  assessAnswer,
  chargePage,
  findingPage,
  notePage,
  readingsAnswer,
  readingsPage,
  vehicleAssessment,
  vehiclePage,
} from "./answers.ts";

import { fleetAnswerPage, fleetPredictions, fleetUpsertAnswer } from "./fleet-answers.ts";
import { customerPage, invoiceAccount, invoicePage, quotePage, webhookMessage } from "./shop-answers.ts";

/** Every schema that the description of the API names, by that name. */
const SCHEMAS = {
  AssessRequest: assessSchema,
  AssessAnswer: assessAnswer,
  VehicleAssessment: vehicleAssessment,
  Readings: readingsSchema,
  ReadingsAnswer: readingsAnswer,
  NewVehicle: newVehicleInput,
  VehicleInput: vehicleInput,
  Vehicle: vehicleStored,
  VehiclePage: vehiclePage,
  ChargeEntryInput: chargeEntryInput,
  ChargeLine: chargeLine,
  ChargePage: chargePage,
  FindingInput: findingInput,
  FindingLine: findingLine,
  FindingPage: findingPage,
  ReadingsInput: readingsInput,
  ReadingsLine: readingsLine,
  ReadingsPage: readingsPage,
  NoteInput: noteInput,
  NoteLine: noteLine,
  NotePage: notePage,
  Customer: customerStored,
  CustomerPage: customerPage,
  Quote: quoteStored,
  QuotePage: quotePage,
  InvoiceAccount: invoiceAccount,
  InvoicePage: invoicePage,
  FleetUpsert: fleetUpsert,
  FleetUpsertAnswer: fleetUpsertAnswer,
  FleetAnswerPage: fleetAnswerPage,
  FleetPredictions: fleetPredictions,
  WebhookMessage: webhookMessage,
  Error: apiError,
} as const satisfies Record<string, z.ZodType>;

export type SchemaName = keyof typeof SCHEMAS;

/** The schemas as JSON Schema 2020-12, the dialect of OpenAPI 3.1, referring to each other by name. */
export function jsonSchemas(): Record<string, object> {
  const registry = z.registry<{ id: string }>();
  for (const [id, schema] of Object.entries(SCHEMAS)) registry.add(schema, { id });
  const { schemas } = z.toJSONSchema(registry, { uri: referenceTo, io: "input" });
  return Object.fromEntries(Object.entries(schemas).map(([name, { $schema, $id, ...schema }]) => [name, schema]));
}

/** Where the description has a schema. */
export function referenceTo(name: string): string {
  return `#/components/schemas/${name}`;
}
