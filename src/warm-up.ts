import { variedRequests } from "./invented-requests.ts";
import { addressOfFields, exampleFields } from "./web/start/quick-address.ts";

/**
 * Code runs fast once it has run often, and with data of every kind: what has been made fast for a few alike questions
 * is slow again at the first one that differs. So the warm-up asks as many different ones as it takes.
 */
const QUESTIONS = 36;

/** Pages that a visitor is likely to open first; where an access link is needed, some only say so. */
const PAGES = ["/", "/?example=yes", "/method", "/readings", "/rules", "/vehicles", "/prices"];

/** Starting points of a visitor's question, in what somebody would type: the sample with other words in some fields. */
const TYPED = [
  {},
  { units: "metric", nameplate: "650 g" },
  { refrigerant: "unsure", nameplate: "don't know" },
  { service: "shop", tools: false },
  { refrigerant: "R-1234yf", nameplate: "17 oz", today: "ok" },
  { nameplate: "don't know", carbon: "190" },
] as const;

/** A request as a browser or a program would send it. */
export interface Asked {
  method: "GET" | "POST";
  path: string;
  headers: Record<string, string>;
  body?: string;
}

/**
 * Asks the application a few dozen invented questions and pages, one after the other, so that the first visitor waits
 * no longer than the tenth. A visitor who comes in between waits for one of them at most. Nothing is stored. `ask` is
 * over once the whole answer is there; `today` is the date that a visitor's question would have; `questions`, how many
 * are put to the model. Never throws.
 */
export async function warmUp(
  ask: (asked: Asked) => Promise<unknown>,
  today: string,
  questions = QUESTIONS,
): Promise<void> {
  const pages = [...PAGES, ...questionPages(today)];
  const open = (path: string) => ask({ method: "GET", path, headers: { "Accept-Encoding": "gzip" } });
  try {
    for (const question of variedRequests(questions)) {
      const body = JSON.stringify(question);
      const headers = { "Content-Type": "application/json", "Accept-Encoding": "gzip" };
      await ask({ method: "POST", path: "/api/assess", headers, body });
      const page = pages.pop();
      if (page !== undefined) await open(page);
    }
    for (const page of pages) await open(page);
  } catch {
    // The next visitor gets the error.
  }
}

/** Years that a car is kept, with which each starting point is asked. */
const KEPT_YEARS = ["1", "4", "8", "12"];

/** Addresses of the page with an answer. */
function questionPages(today: string): string[] {
  return KEPT_YEARS.flatMap((keep) =>
    TYPED.map((typed) => `${addressOfFields({ ...exampleFields(today), keep, ...typed })}&go=yes`),
  );
}
