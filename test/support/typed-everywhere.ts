import { attribute, decoded, formFields, formsIn } from "./page-form.ts";

/** A field of a form that takes typed text: where it is sent, and its name, numbers in it left out. */
type FieldName = string;

export interface Tried {
  /** What was stored, or at least taken. */
  taken: Set<FieldName>;
  /** What the form itself says is wrong with the field: a number, a day. */
  refused: Set<FieldName>;
  /** Neither: the form was refused for something else, which is said. */
  untried: Map<FieldName, string>;
  /** Pages that show such texts: one of a pattern, and more of quotes, which differ by their state. */
  pages: string[];
  /** Answers to forms: what was typed and refused stands in them again. */
  answers: string[];
}

interface Places {
  /** Addresses to begin with; others are found by links. */
  seeds: readonly string[];
  /** What such texts look like in the source of a page. */
  shows: RegExp;
  /** Where nothing is sent: all would be gone. */
  except: readonly string[];
  /** Patterns of addresses: "/vehicles/:id/log". */
  routes: readonly string[];
  get(path: string): Promise<Response>;
  post(path: string, body: URLSearchParams | FormData): Promise<Response>;
}

/** Pages of one pattern that are looked at; of quotes as many as there are, in their states. */
const ALIKE = 2;
const ALIKE_IN_STATES = 8;
const IN_STATES = /\/quotes\/:quote(?:\/invoice)?$/;
/** How often a form is sent: without what it says is wrong, then with something that it takes there. */
const ATTEMPTS = 5;
/** A file that is sent, among the fields. */
const FILE = "file";
/** What some forms ask when an amount is hard to believe. */
const SURE = "sure";

const TEXT_FIELDS = /<input\b[^>]*>|<textarea\b[^>]*>/g;
const TEXT_TYPES = new Set([null, "text", "search", "email", "tel", "url"]);

/** Types `typed` into every text field of every form that is found on the way from the seeds, and sends it. */
export class TypedEverywhere {
  readonly tried: Tried = { taken: new Set(), refused: new Set(), untried: new Map(), pages: [], answers: [] };
  readonly #places: Places;
  readonly #typed: string;
  readonly #patterns: readonly { route: string; pattern: RegExp }[];
  readonly #waiting: string[] = [];
  readonly #alike = new Map<string, number>();
  readonly #known = new Set<string>();
  readonly #shown = new Set<string>();

  constructor(places: Places, typed: string) {
    this.#places = places;
    this.#typed = typed;
    this.#patterns = places.routes.map((route) => ({
      route,
      pattern: new RegExp(`^${route.replace(/:\w+(\{[^}]*\})?/g, "[^/]+")}$`),
    }));
    for (const seed of places.seeds) this.#found(seed);
  }

  async run(): Promise<Tried> {
    for (let page = this.#waiting.shift(); page !== undefined; page = this.#waiting.shift()) {
      const html = await this.#page(page);
      if (html === "") continue;
      if (this.#places.shows.test(html) && this.#isNew(page)) this.tried.pages.push(page);
      this.#linksOf(html);
      for (const seen of formsIn(html)) {
        const fields = this.#newFields(seen, page);
        if (fields.length === 0) continue;
        // Anew: what was sent has changed versions, and which forms there are.
        const form = formsIn(await this.#page(page)).find(
          (one) =>
            actionOf(one, page) === actionOf(seen, page) &&
            fields.every((name) => this.#newFields(one, page).includes(name)),
        );
        if (form === undefined) continue;
        if (fields.some((name) => name !== FILE)) await this.#send(form, page);
        if (fields.includes(FILE)) await this.#sendFile(form, page);
      }
    }
    return this.tried;
  }

  async #send(form: string, page: string): Promise<void> {
    const action = actionOf(form, page);
    const fields = this.#newFields(form, page).filter((name) => name !== FILE);
    const wrong = new Map<string, number>();
    let said = "";
    let is_sure = false;
    for (let attempt = 0; attempt < ATTEMPTS; attempt += 1) {
      const values = chosen(form, attempt);
      if (is_sure) values.set(SURE, "yes");
      for (const name of fields) values.set(name, this.#valueFor(name, wrong.get(name) ?? 0, values.get(name)));
      const answer = await (isAsking(form)
        ? this.#places.get(asked(action, values))
        : this.#places.post(action, values));
      this.#found(answer.headers.get("Location") ?? "");
      const html = await htmlOf(answer);
      this.tried.answers.push(html);
      if (answer.status < 400) {
        this.#linksOf(html);
        for (const name of fields) this.tried[wrong.has(name) ? "refused" : "taken"].add(this.#nameOf(action, name));
        return;
      }
      const named = invalid(html);
      is_sure = html.includes(`name="${SURE}"`);
      said = `${answer.status} ${problemIn(html)}`;
      for (const name of named) wrong.set(name, (wrong.get(name) ?? 0) + 1);
      if (named.length === 0) break;
    }
    for (const name of fields)
      if (wrong.has(name)) this.tried.refused.add(this.#nameOf(action, name));
      else this.tried.untried.set(this.#nameOf(action, name), said);
  }

  /** A table of which every cell is what is typed, or has it in it. */
  async #sendFile(form: string, page: string): Promise<void> {
    const body = new FormData();
    for (const [name, value] of formFields(form)) body.append(name, value);
    const quoted = `"${this.#typed.replaceAll('"', '""')}"`;
    const lines = [
      `Vehicle,Refrigerant,Nameplate (g),Date,Added (g),By,Depot,Group,Order,Note,${quoted}`,
      `${quoted},R-134a,850,2026-03-02,210,cans,${quoted},${quoted},${quoted},${quoted},${quoted}`,
      `${quoted},${quoted},${quoted},${quoted},${quoted},${quoted},${quoted},${quoted},${quoted},${quoted},${quoted}`,
    ];
    const field = attribute(/<input\b[^>]*type="file"[^>]*>/.exec(form)?.[0] ?? "", "name") ?? "file";
    body.set(field, new File([lines.join("\r\n")], `${this.#typed}.csv`, { type: "text/csv" }));
    const answer = await this.#places.post(actionOf(form, page), body);
    this.#found(answer.headers.get("Location") ?? "");
    this.tried.answers.push(await htmlOf(answer));
    this.tried.taken.add(this.#nameOf(actionOf(form, page), FILE));
  }

  #valueFor(name: string, times_wrong: number, now: string | null): string {
    if (times_wrong === 0) return this.#typed;
    return times_wrong === 1 ? (now ?? "") : (Object.entries(RIGHT).find(([part]) => name.includes(part))?.[1] ?? "10");
  }

  /** The text fields of a form that nobody has typed into yet. */
  #newFields(form: string, page: string): string[] {
    if (this.#places.except.includes(this.#routeOf(actionOf(form, page)))) return [];
    const { taken, refused, untried } = this.tried;
    const fields = textFields(form);
    return [...fields, ...(/type="file"/.test(form) ? [FILE] : [])].filter((name) => {
      const field = this.#nameOf(actionOf(form, page), name);
      return !taken.has(field) && !refused.has(field) && !untried.has(field);
    });
  }

  #nameOf(action: string, name: string): FieldName {
    return `${this.#routeOf(action)} ${name.replace(/\d+/g, "#")}`;
  }

  #routeOf(address: string): string {
    const path = address.split(/[?#]/)[0]!;
    return this.#patterns.find(({ pattern }) => pattern.test(path))?.route ?? path;
  }

  #isNew(page: string): boolean {
    const route = this.#routeOf(page);
    if (this.#shown.has(route)) return route.endsWith("/quotes/:quote");
    this.#shown.add(route);
    return true;
  }

  #linksOf(html: string): void {
    for (const [, href = ""] of html.matchAll(/<a\b[^>]*\shref="([^"]*)"/g)) this.#found(decoded(href));
  }

  #found(address: string): void {
    if (!/^\/(?!\/|assets\/|feed\/)/.test(address) || /\.\w+$/.test(address)) return;
    const page = address.split("#")[0]!;
    const route = this.#routeOf(page);
    const seen = this.#alike.get(route) ?? 0;
    if (this.#known.has(page)) return;
    if (seen >= (IN_STATES.test(route) ? ALIKE_IN_STATES : ALIKE)) return;
    this.#alike.set(route, seen + 1);
    this.#known.add(page);
    this.#waiting.push(page);
  }

  async #page(path: string): Promise<string> {
    return htmlOf(await this.#places.get(path));
  }
}

async function htmlOf(answer: Response): Promise<string> {
  const text = await answer.text();
  return (answer.headers.get("Content-Type") ?? "").startsWith("text/html") ? text : "";
}

function textFields(form: string): string[] {
  const tags = (form.match(TEXT_FIELDS) ?? [])
    .filter((tag) => tag.startsWith("<textarea") || TEXT_TYPES.has(attribute(tag, "type")))
    .filter((tag) => !/\s(?:readonly|disabled)\b/.test(tag));
  return [...new Set(tags.map((tag) => attribute(tag, "name") ?? ""))].filter((name) => name !== "");
}

function isAsking(form: string): boolean {
  return attribute(form, "method")?.toLowerCase() !== "post" && !/formmethod="post"/.test(form);
}

/** Where a form goes: some that only ask have a button that keeps what was asked. */
function actionOf(form: string, page: string): string {
  const keeps = /<button\b[^>]*formmethod="post"[^>]*>/.exec(form)?.[0];
  return (keeps === undefined ? null : attribute(keeps, "formaction")) ?? attribute(form, "action") ?? page;
}

function asked(action: string, values: URLSearchParams): string {
  return `${action.split("?")[0]}?${values}`;
}

/** What a browser would send, with something chosen wherever there is a choice: another one at each attempt. */
function chosen(form: string, attempt: number): URLSearchParams {
  const values = formFields(form);
  const choices = new Map<string, string[]>();
  const offer = (name: string, value: string) => value && choices.set(name, [...(choices.get(name) ?? []), value]);
  for (const [tag] of form.matchAll(/<input\b[^>]*type="radio"[^>]*>/g))
    offer(attribute(tag, "name") ?? "", attribute(tag, "value") ?? "");
  for (const [whole, options = ""] of form.matchAll(/<select\b[^>]*>([\s\S]*?)<\/select>/g))
    for (const [tag] of options.matchAll(/<option\b[^>]*>/g))
      offer(attribute(whole, "name") ?? "", attribute(tag, "value") ?? "");
  for (const [name, offered] of choices)
    if (attempt >= 2 || (values.get(name) ?? "") === "") values.set(name, offered[attempt % offered.length]!);
  const button = /<button\b[^>]*\sname="[^>]*>/.exec(form)?.[0] ?? "";
  const pressed = attribute(button, "name");
  if (pressed !== null && !values.has(pressed)) values.set(pressed, attribute(button, "value") ?? "");
  return values;
}

/** What fields take that take no text of any kind, by a part of their names; else an amount. */
const RIGHT = {
  nameplate: "650 g",
  ambient: "85 °F",
  date: "2026-05-01",
  when: "2026-05-01",
  yes_on: "2026-05-01",
  most: "30 lb",
  phone: "555 0142",
  email: "robin@example.com",
};

/** The names of the fields that a form says are wrong. */
function invalid(html: string): string[] {
  return (html.match(/<(?:input|textarea|select)\b[^>]*aria-invalid="true"[^>]*>/g) ?? []).map(
    (tag) => attribute(tag, "name") ?? "",
  );
}

function problemIn(html: string): string {
  const alert = /role="alert"[\s\S]{0,400}/.exec(html)?.[0] ?? html.slice(0, 200);
  return alert
    .replace(/<[^>]*>/g, " ")
    .replace(/\s+/g, " ")
    .slice(0, 160);
}
