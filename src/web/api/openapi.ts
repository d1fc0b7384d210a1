import { etag } from "hono/etag";
import { version } from "../../../package.json";
import { type Api, type Operation, QUERY } from "./operation.ts";
import { jsonSchemas, referenceTo, type SchemaName } from "./schemas.ts";

const STRING = { type: "string" } as const;

/** `GET /api/openapi.json`: all operations of `api` in OpenAPI 3.1, from the schemas that check what comes in. */
export function addDescription(api: Api): void {
  let text: string | undefined;
  api.app.use("/api/openapi.json", etag());
  api.open(
    { method: "get", path: "/api/openapi.json", id: "describeApi", summary: "This description.", gives: null },
    (c) => {
      text ??= JSON.stringify(openApiDocument(api.operations));
      c.header("Cache-Control", "no-cache");
      return c.body(text, 200, { "Content-Type": "application/json" });
    },
  );
}

/** The document, as OpenAPI 3.1.1 has it. */
function openApiDocument(operations: readonly Operation[]) {
  const paths: Record<string, Record<string, object>> = {};
  for (const operation of operations) {
    const path = operation.path.replace(/:(\w+)/g, "{$1}");
    paths[path] = { ...paths[path], [operation.method]: described(operation) };
  }
  return {
    openapi: "3.1.1",
    info: { title: "Seepwise", version, description: ABOUT, license: { name: "MIT", identifier: "MIT" } },
    servers: [{ url: "/" }],
    security: [{ key: [] }],
    paths,
    webhooks: { message: { post: WEBHOOK } },
    components: {
      schemas: jsonSchemas(),
      securitySchemes: {
        key: {
          type: "http",
          scheme: "bearer",
          description: "A key of the workspace, made under Settings. A server for this machine alone asks for none.",
        },
      },
    },
  };
}

const ABOUT =
  "Whether to repair, dye-test or top off a slowly leaking vehicle air conditioner, from its charge log; and the records behind it. " +
  "Amounts are grams, money is in the currency of the workspace, dates are YYYY-MM-DD, instants UTC. " +
  "Send a body as application/json; a change without a body needs that header, too, when it comes without a key. " +
  "Under Idempotency-Key the same change arriving twice is made once.";

function described(operation: Operation) {
  const { id, summary, description, role, query = [], takes, gives, status = 200, versioned, path } = operation;
  const needs = role === null ? "" : ` Needs ${role} access.`;
  return {
    operationId: id,
    summary,
    description: [`${summary}${needs}`, ...(description === undefined ? [] : [description])].join("\n\n"),
    ...(role === null ? { security: [] } : {}),
    parameters: [
      ...Array.from(path.matchAll(/:(\w+)/g), ([, name]) => ({
        name,
        in: "path",
        required: true,
        schema: STRING,
      })),
      ...query.map((name) => ({ name, in: "query", required: false, ...QUERY[name] })),
      ...(versioned ? [IF_MATCH] : []),
      ...(role === "editor" ? [IDEMPOTENCY_KEY] : []),
    ],
    ...(takes === undefined ? {} : { requestBody: { required: true, content: json(reference(takes)) } }),
    responses: {
      [status]: {
        description: status === 201 ? "Stored." : "Done.",
        ...headersOf(operation),
        content: json(gives === null ? { type: "object" } : reference(gives)),
      },
      default: { description: "What cannot be done, and what to do.", content: json(reference("Error")) },
    },
  };
}

function headersOf({ tagged, paged }: Operation) {
  const headers = {
    ...(tagged ? { ETag: { description: "The version, to be named in If-Match.", schema: STRING } } : {}),
    ...(paged ? { Link: { description: 'The address of the next page: <…>; rel="next".', schema: STRING } } : {}),
  };
  return tagged || paged ? { headers } : {};
}

/** What goes to the address under Settings, Webhook. */
const WEBHOOK = {
  operationId: "webhookMessage",
  summary: "What happened to a quote, or which answers of the fleet changed.",
  description:
    "Sent to the address set under Settings. Any 2xx within ten seconds takes it; else it is sent again after 1, 5 and " +
    "30 minutes, 2, 6, 12 and 24 hours. The same event keeps its id: take each once. Check the signature over the body as " +
    "it came, and refuse a timestamp more than a few minutes old. Names and addresses are not in it: ask for the quote.",
  parameters: [
    header("Seepwise-Message", "The id, as in the body."),
    header("Seepwise-Timestamp", "Seconds since 1970 when this attempt was made."),
    header(
      "Seepwise-Signature",
      "HMAC-SHA256 under the secret over the timestamp, a full stop and the body: 64 hexadecimal digits.",
    ),
  ],
  requestBody: { required: true, content: json(reference("WebhookMessage")) },
  responses: { "2XX": { description: "Taken." } },
};

function header(name: string, description: string) {
  return { name, in: "header", required: true, description, schema: STRING } as const;
}

const IF_MATCH = {
  name: "If-Match",
  in: "header",
  required: true,
  description: 'The version that the change is about, as it came in ETag: "3". If there is a newer one: 412.',
  schema: STRING,
} as const;

const IDEMPOTENCY_KEY = {
  name: "Idempotency-Key",
  in: "header",
  required: false,
  description: "Drawn anew for each change; the same change under the same key is made once.",
  schema: { type: "string", maxLength: 64 },
} as const;

function json(schema: object) {
  return { "application/json": { schema } };
}

function reference(name: SchemaName) {
  return { $ref: referenceTo(name) };
}
