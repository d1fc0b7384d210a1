import { variedRequests } from "./invented-requests.ts";
import { addressOfFields, exampleFields } from "./web/start/quick-address.ts";

/**
 * Code runs fast once it has run often, and with data of every kind: what has been made fast for a few alike questions
 * is slow again at the first one that differs. So the warm-up asks as many different ones as it takes.
 */
const QUESTIONS = 36;
/** After every so many questions to the model one page is asked for. */
const QUESTIONS_A_PAGE = 3;

/** Pages that a visitor is likely to open first; where an access link is needed, some only say so. */
const PAGES = ["/", "/?example=yes", "/method", "/readings", "/rules", "/vehicles", "/prices"];

/** Starting points of a visitor's question, in what somebody would type: the sample with other words in some fields. */
const TYPED = [
  {},
  { units: "metric", nameplate: "650 g", keep: "9" },
  { refrigerant: "unsure", nameplate: "don't know" },
  { service: "shop", tools: false },
  { refrigerant: "R-1234yf", nameplate: "17 oz", today: "ok" },
  { nameplate: "don't know", keep: "2", carbon: "190" },
] as const;

/**
 * Asks the application at `origin` a few dozen invented questions and the first pages, one after the other, so that the
 * first visitor waits no longer than the tenth. A visitor who comes in between waits for one of them at most. Nothing
 * is stored. `today` is the date that a visitor's question would have; `questions`, how many. Never throws.
 */
export async function warmUp(
  answer: (request: Request) => Response | Promise<Response>,
  origin: string,
  today: string,
  questions = QUESTIONS,
): Promise<void> {
  // The application answers only to its own name, which no browser is here to send.
  const headers = { Host: new URL(origin).host, "Content-Type": "application/json" };
  const pages = [...PAGES, ...questionPages(today)];
  try {
    for (const [i, question] of variedRequests(questions).entries()) {
      const body = JSON.stringify(question);
      await (await answer(new Request(`${origin}/api/assess`, { method: "POST", headers, body }))).text();
      const page = i % QUESTIONS_A_PAGE === 0 ? pages.pop() : undefined;
      if (page !== undefined) await (await answer(new Request(origin + page, { headers }))).text();
    }
    for (const page of pages) await (await answer(new Request(origin + page, { headers }))).text();
  } catch {
    // The next visitor gets the error.
  }
}

/** Addresses of the page with an answer. */
function questionPages(today: string): string[] {
  return TYPED.map((typed) => `${addressOfFields({ ...exampleFields(today), ...typed })}&go=yes`);
}
