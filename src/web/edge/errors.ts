import type { Context, ErrorHandler } from "hono";
import { HTTPException } from "hono/http-exception";
import { matchedRoutes } from "hono/route";
import type { ContentfulStatusCode } from "hono/utils/http-status";
import { SignInPage } from "../../../views/access/sign-in.tsx";
import { ProblemFragment, ProblemPage } from "../../../views/problem.tsx";
import { Problem, type ProblemCode } from "../../core/problem.ts";
import type { AppEnv, Deps } from "./deps.ts";
import { answerPage, pageText } from "./page.ts";
import { personOf } from "./person.ts";
import { wantsFragment } from "./wants-fragment.ts";
import { wholeAnswer } from "./whole-answer.ts";

interface Face {
  status: ContentfulStatusCode;
  title: string;
}

/** Status, heading and code for each kind of `Problem`. */
const faces: Record<ProblemCode, Face> = {
  unreadable: { status: 400, title: "That could not be read" },
  invalid: { status: 422, title: "Something needs correcting" },
  "too-large": { status: 413, title: "That is too much at once" },
  // RFC 4918, 11.5
  "no-room": { status: 507, title: "There is no room left" },
  "sign-in-needed": { status: 401, title: "An access link is needed" },
  forbidden: { status: 403, title: "That is not allowed" },
  "not-found": { status: 404, title: "Not found" },
  changed: { status: 409, title: "It was changed in the meantime" },
  "version-needed": { status: 428, title: "Which version is this about?" },
  "too-many": { status: 429, title: "Too many requests" },
  unavailable: { status: 503, title: "Not available just now" },
};

/** The same refusal to someone who made the version a condition of the request (RFC 9110, 13.1.1). */
const OTHER_VERSION: Face = { ...faces.changed, status: 412 };
const TOO_SLOW: Face = { status: 504, title: "That took too long" };
const WRONG_METHOD: Face = { status: 405, title: "That cannot be done at this address" };
const UNEXPECTED: Face = { status: 500, title: "Something went wrong here" };

/** Seconds until a retry, where nothing better is known. */
const SOON_S = "5";

/** Answers whatever a route throws. Only unexpected errors are reported, and their text is never shown. */
export function answerError(deps: Deps): ErrorHandler<AppEnv> {
  return (error, c) => {
    const id = c.get("requestId");
    const request = { id, method: c.req.method, route: routeOf(c) };
    if (error instanceof Problem) {
      // The cause, such as a full disk, is for whoever runs the server, not for the visitor.
      if (error.cause !== undefined) deps.reportError(error.cause, request, c);
      if (error.code === "unavailable") c.header("Retry-After", SOON_S);
      const conditional = error.code === "changed" && c.req.header("If-Match") !== undefined;
      return answer(c, deps, conditional ? OTHER_VERSION : faces[error.code], error.message, error.issues);
    }
    if (error instanceof HTTPException && error.status === 403)
      return answer(
        c,
        deps,
        faces.forbidden,
        "We did not accept this form because it came from another site. Open the page here and send it again.",
      );
    if (error instanceof HTTPException && error.status === 504)
      return answer(c, deps, TOO_SLOW, "The answer took too long. Wait a moment, then try again.");
    deps.reportError(error, request, c);
    return answer(
      c,
      deps,
      UNEXPECTED,
      `This is our fault, not yours. Go back and try again. If it happens again, report this number: ${id}`,
    );
  };
}

/** Answers an unknown address. */
export function answerNotFound(deps: Deps) {
  return (c: Context<AppEnv>) =>
    answer(
      c,
      deps,
      faces["not-found"],
      "There is nothing at this address. Check it for a slip, or begin at the start page.",
    );
}

/** Answers a method that an existing address does not support. */
export function answerWrongMethod(deps: Deps) {
  return (c: Context<AppEnv>, methods: string[]) => {
    c.header("Allow", methods.join(", "));
    return answer(c, deps, WRONG_METHOD, `This address takes ${methods.join(" and ")} only.`);
  };
}

/** The route's pattern, `/q/:token`. The address itself may hold a key, which must not end up in a log. */
export function routeOf(c: Context<AppEnv>): string {
  return matchedRoutes(c).findLast(({ path }) => !path.endsWith("*"))?.path ?? "unknown";
}

/** Asked by programs. */
const HEALTH = new Set(["/healthz", "/readyz"]);

type Answer = "json" | "fragment" | "page";

function answerAs(c: Context<AppEnv>): Answer {
  if (c.req.path.startsWith("/api/") || HEALTH.has(c.req.path)) return "json";
  return wantsFragment(c) ? "fragment" : "page";
}

function answer(
  c: Context<AppEnv>,
  deps: Deps,
  { status, title }: Face,
  message: string,
  issues: Problem["issues"] = [],
) {
  switch (answerAs(c)) {
    case "json":
      if (status === 401 && !c.res.headers.has("WWW-Authenticate")) c.header("WWW-Authenticate", "Bearer");
      return c.json({ error: { message, issues } }, status);
    case "fragment":
      return c.html(ProblemFragment({ title, message, issues }), status);
    case "page":
      if (status === faces["sign-in-needed"].status)
        return answerPage(c, SignInPage({ link: "", error: null, asset: deps.asset }), status);
      if (REPEATED.has(status) && issues.length === 0) return repeatedRefusal(c, deps, { status, title }, message);
      return answerPage(c, ProblemPage({ title, message, issues, asset: deps.asset }), status);
  }
}

/** Refusals that come by the thousand while somebody asks without a pause. */
const REPEATED: ReadonlySet<number> = new Set([faces["too-many"].status, faces.unavailable.status]);
/** There are some dozen messages of them, for a few kinds of people. */
const REMEMBERED = 200;
const refusals = new WeakMap<Deps, Map<string, Uint8Array<ArrayBuffer>>>();

/** A refusal as a page that is made once: to refuse must cost less than to ask. */
async function repeatedRefusal(c: Context<AppEnv>, deps: Deps, { status, title }: Face, message: string) {
  const person = personOf(c);
  const key = `${status} ${person} ${message}`;
  const kept = refusals.get(deps) ?? new Map<string, Uint8Array<ArrayBuffer>>();
  refusals.set(deps, kept);
  let page = kept.get(key);
  if (page === undefined) {
    const view = ProblemPage({ title, message, issues: [], asset: deps.asset });
    page = new TextEncoder().encode(await pageText(view, person));
    if (kept.size >= REMEMBERED) kept.clear();
    kept.set(key, page);
  }
  const later = c.res.headers.get("Retry-After");
  return wholeAnswer(c, page, status, {
    "Content-Type": "text/html; charset=UTF-8",
    ...(later === null ? {} : { "Retry-After": later }),
  });
}
