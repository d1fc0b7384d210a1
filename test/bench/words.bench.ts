/**
 * Words in sight and folded away on each page of the sample records, as it arrives, without the menu and the choices of
 * selects; beside them the figures of the first full reading of the pages (28 November 2026) and two thirds of those,
 * which are the most that each may have. Nothing is timed.
 *
 *     npm run build && npm run bench -- words
 */
import { startServer } from "../support/server.ts";
import { type WordsOfPage, wordsOf } from "../support/words-in-sight.ts";

export interface PageWords extends WordsOfPage {
  page: string;
  /** In sight at the first reading. */
  before: number;
  /** The most that it may have: two thirds. */
  most: number;
}

const READINGS = "refrigerant=R-134a&ambient=88&engine=running&low=28&high=200&vent=52&go=1";

/**
 * Pages by name, with the words that they had in sight; and the most that one may have which says much more by now, and
 * is not at two thirds again yet. `:vehicle` and `:quote` stand for those of the sample.
 */
const PAGES: readonly (readonly [page: string, path: string, before: number, held?: number])[] = [
  ["Start, with an answer", "/?example", 1245],
  ["Start, empty", "/", 254],
  ["Vehicles", "/vehicles", 233],
  ["Vehicle", "/vehicles/:vehicle", 1067],
  ["Readings, judged", `/readings?${READINGS}`, 688],
  ["Readings, form", "/readings", 229],
  ["Top-off plan", "/vehicles/:vehicle/top-off", 1127],
  ["Leak tests", "/leak-tests", 1046],
  ["Rules, one state", "/rules?where=us-ca", 842],
  ["Method", "/method", 5908],
  ["Fleet", "/fleet", 468],
  ["Budget", "/fleet/budget?budget=3000", 219, 166],
  ["Audit", "/fleet/audit", 264],
  ["Import, first page", "/fleet/import", 377],
  ["Quote, builder", "/vehicles/:vehicle/quotes/:quote", 488],
  ["Quote, customer", "/vehicles/:vehicle/quotes/:quote/preview", 682],
  ["Details of a vehicle", "/vehicles/:vehicle/details", 175],
  ["Add an entry", "/vehicles/:vehicle/log/new", 168],
  ["Settings", "/settings", 117],
  ["Access", "/settings/access", 214],
  ["Records", "/settings/records", 187],
];

/** Dates are words too: the pages are those of the day of the first reading, whatever day it is. */
const DAY = "2026-11-28T12:00:00Z";
const SET_CLOCK = `const ahead = ${Date.parse(DAY)} - Date.now(), Real = Date;
globalThis.Date = class extends Real {
  constructor(...given) { given.length === 0 ? super(Real.now() + ahead) : super(...given); }
  static now() { return Real.now() + ahead; }
};`;
const ON_THE_DAY = { NODE_OPTIONS: `--import=data:text/javascript,${encodeURIComponent(SET_CLOCK)}` };

/** The words of each page of a server with the sample vehicles, calculated, and one quote. */
export async function wordsBench(): Promise<PageWords[]> {
  const server = await startServer(ON_THE_DAY);
  const ask = async (path: string, init: RequestInit = {}) => {
    const answer = await fetch(server.url + path, { redirect: "manual", ...init });
    if (answer.status >= 400) throw new Error(`${path}: ${answer.status}`);
    return answer;
  };
  const page = async (path: string) => (await ask(path)).text();
  const post = (path: string, fields: Record<string, string>) =>
    ask(path, { method: "POST", headers: { Origin: server.url }, body: new URLSearchParams(fields) });
  try {
    await post("/vehicles/examples", { submit_key: "examples" });
    const vehicle = /href="\/vehicles\/([0-9a-z]{20})"/.exec(await page("/vehicles"))?.[1];
    if (vehicle === undefined) throw new Error("No sample vehicle is listed");
    await post("/fleet/reckoning", {});
    for (let i = 0; i < 1000 && !(await page("/fleet")).includes("Calculated"); i++)
      await new Promise((resolve) => setTimeout(resolve, 50));
    const begun = await post(`/vehicles/${vehicle}/quotes`, {
      submit_key: "quote",
      customer: "A. Customer",
      keep_years: "5",
      book: "retail",
    });
    const quote = /\/quotes\/([0-9a-z]{20})/.exec(begun.headers.get("Location") ?? "")?.[1] ?? "";
    const measured: PageWords[] = [];
    for (const [name, path, before, held] of PAGES) {
      const words = wordsOf(await page(path.replace(":vehicle", vehicle).replace(":quote", quote)));
      measured.push({ page: name, ...words, before, most: held ?? Math.round((2 * before) / 3) });
    }
    return measured;
  } finally {
    await server.stop();
  }
}

if (import.meta.main) {
  const head = ["page", "in sight", "folded", "before", "at most"];
  const rows = (await wordsBench()).map(({ page, in_sight, folded, before, most }) => [
    `${page}${in_sight > most ? " TOO MUCH" : ""}`,
    ...[in_sight, folded, before, most].map(String),
  ]);
  for (const [name = "", ...figures] of [head, ...rows])
    console.log(name.padEnd(32) + figures.map((figure) => figure.padStart(9)).join(""));
}
