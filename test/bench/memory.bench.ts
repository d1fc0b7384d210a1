/**
 * Whether a server's memory stays flat: a hundred thousand mixed requests (pages, questions, changes, refusals, files,
 * senders who hang up), and what the process has after every ten thousand.
 *
 *     npm run build && npm run bench -- memory
 *
 * It takes some minutes. Budget: in the last fifth at most a tenth more than in the second.
 */
import { seededRandom } from "../support/random.ts";
import { type RunningServer, startServer } from "../support/server.ts";
import { lineOf, type Measurement, medianOf } from "./measurement.ts";

const KEY = "a key of this bench alone";
const VEHICLES = 20;
/** How many ask at once. */
const AT_ONCE = 6;
const MOST_GROWTH_PERCENT = 10;
const MB = 1e6;

interface Asked {
  path: string;
  ask?: RequestInit;
  /** Hangs up before the answer is there. */
  leaves?: true;
}

type Chance = () => number;

const FROM_HERE = { "Sec-Fetch-Site": "same-origin" };
const JSON_HERE = { ...FROM_HERE, "Content-Type": "application/json" };
const ASSETS = /\/assets\/[\w.-]+/g;
const PAGES = ["/", "/method", "/rules", "/readings", "/leak-tests", "/vehicles", "/fleet", "/quotes", "/prices"];
const SEVERAL = [...PAGES, "/settings", "/follow-ups", "/customers", "/healthz", "/readyz"];

/** What is asked for: how often of a hundred, and one of its kind. */
function kinds(vehicles: readonly string[], assets: readonly string[]): [share: number, (chance: Chance) => Asked][] {
  const one = <T>(list: readonly T[], chance: Chance) => list[Math.floor(chance() * list.length)]!;
  const post = (path: string, fields: Record<string, string>): Asked => ({
    path,
    ask: { method: "POST", headers: FROM_HERE, body: new URLSearchParams(fields) },
  });
  const send = (method: string, path: string, body: unknown, headers = {}): Asked => ({
    path,
    ask: {
      method,
      headers: { ...JSON_HERE, ...headers },
      body: typeof body === "string" ? body : JSON.stringify(body),
    },
  });
  const anyId = (chance: Chance) => Math.floor(chance() * 1e9).toString(36);
  const refused: ((chance: Chance) => Asked)[] = [
    (chance) => ({ path: `/vehicles/${anyId(chance)}` }),
    (chance) => ({ path: `/nothing/${anyId(chance)}` }),
    (chance) => ({ path: `/q/${anyId(chance)}` }),
    (chance) => ({ path: `/?nameplate=${anyId(chance)}+lots&when=never&go=1` }),
    () => send("POST", "/api/assess", "{"),
    (chance) => send("POST", "/api/vehicles", { label: anyId(chance), nameplate_g: -1 }),
    (chance) => post(`/vehicles/${one(vehicles, chance)}/notes`, { body: "" }),
    () => ({ path: "/settings", ask: { method: "POST", headers: { "Sec-Fetch-Site": "cross-site" } } }),
    () => ({ path: "/vehicles", ask: { method: "DELETE" } }),
    (chance) => send("PUT", `/api/vehicles/${one(vehicles, chance)}`, {}, { "If-Match": '"0"' }),
  ];
  return [
    [33, (chance) => ({ path: one(SEVERAL, chance) })],
    [18, (chance) => ({ path: `/vehicles/${one(vehicles, chance)}` })],
    [3, (chance) => ({ path: `/?nameplate=${(10 + 40 * chance()).toFixed(3)}+oz&today=weak&go=1` })],
    [
      2,
      (chance) =>
        send("POST", "/api/assess", { vehicle: { refrigerant: "R-134a", nameplate_g: 400 + 400 * chance() } }),
    ],
    [10, (chance) => ({ path: one(assets, chance) })],
    [23, (chance) => one(refused, chance)(chance)],
    [6, (chance) => post("/settings/webhook/removal", { n: anyId(chance) })],
    [1, (chance) => post(`/vehicles/${one(vehicles, chance)}/notes`, { body: `Noted ${anyId(chance)}` })],
    [1, (chance) => post(chance() < 0.5 ? "/vehicles/examples" : "/vehicles/examples/removal", {})],
    [2, (chance) => ({ path: `/vehicles/${one(vehicles, chance)}`, leaves: true })],
    [1, (chance) => ({ path: one(["/settings/export.json", "/settings/charge-log.csv", "/fleet.csv"], chance) })],
  ];
}

export async function memoryBench({
  requests = 100_000,
  every = 10_000,
  vehicles = VEHICLES,
  say = (_line: string) => {},
} = {}): Promise<Measurement[]> {
  const server = await startServer({ METRICS_KEY: KEY });
  try {
    const asked = kinds(await someVehicles(server, vehicles), await assetsOf(server));
    const total = asked.reduce((sum, [share]) => sum + share, 0);
    const chance = seededRandom(7);
    const draw = (): Asked => {
      let left = chance() * total;
      for (const [share, make] of asked) {
        left -= share;
        if (left <= 0) return make(chance);
      }
      return asked[0]![1](chance);
    };
    const statuses = new Map<number, number>();
    const seen: Memory[] = [];
    for (let done = 0; done < requests; done += every) {
      const began = performance.now();
      let left = every;
      const worker = async () => {
        while (left-- > 0) {
          const status = await answerTo(server, draw());
          statuses.set(status, (statuses.get(status) ?? 0) + 1);
        }
      };
      await Promise.all(Array.from({ length: AT_ONCE }, worker));
      const memory = await memoryOf(server);
      seen.push(memory);
      const seconds = ((performance.now() - began) / 1000).toFixed(0);
      say(`${done + every} requests: RSS ${memory.rss.toFixed(0)} MB, heap ${memory.heap.toFixed(0)} MB, ${seconds} s`);
    }
    const broken = [...statuses].filter(([status]) => status === 500);
    if (broken.length > 0) throw new Error(`Answers ${JSON.stringify(broken)}: ${server.output()}`);
    return measurementsOf(seen, statuses);
  } finally {
    await server.stop();
  }
}

interface Memory {
  rss: number;
  heap: number;
}

function measurementsOf(seen: readonly Memory[], statuses: ReadonlyMap<number, number>): Measurement[] {
  const fifth = Math.max(1, Math.floor(seen.length / 5));
  const [second, last] = [seen.slice(fifth, 2 * fifth), seen.slice(-fifth)];
  const kinds = [...statuses].toSorted(([a], [b]) => a - b).map(([status, times]) => `${times} × ${status || "left"}`);
  return (["rss", "heap"] as const).map((what) => {
    const of = (some: readonly Memory[]) => medianOf((some.length > 0 ? some : seen).map((memory) => memory[what]));
    return {
      name: what === "rss" ? "resident memory, last fifth against the second" : "heap, likewise",
      value: (100 * of(last)) / of(second) - 100,
      unit: "%",
      most: MOST_GROWTH_PERCENT,
      digest: null,
      beside: `${of(second).toFixed(0)} to ${of(last).toFixed(0)} MB; ${kinds.join(", ")}`,
    };
  });
}

/** The status of the answer; 0 for one that was not waited for. */
async function answerTo({ url }: RunningServer, { path, ask, leaves }: Asked): Promise<number> {
  if (leaves === undefined) {
    const answer = await fetch(url + path, { ...ask, redirect: "manual" });
    await answer.arrayBuffer();
    return answer.status;
  }
  const signal = AbortSignal.timeout(1);
  return fetch(url + path, { signal }).then(
    async (answer) => {
      await answer.body?.cancel();
      return 0;
    },
    () => 0,
  );
}

/** What the server says of itself: megabytes of the process, and of what its own code has made. */
async function memoryOf({ url }: RunningServer): Promise<Memory> {
  const answer = await fetch(`${url}/metrics`, { headers: { Authorization: `Bearer ${KEY}` } });
  const text = await answer.text();
  const figure = (name: string) => Number(new RegExp(`^${name} (\\S+)$`, "m").exec(text)?.[1]) / MB;
  return { rss: figure("process_resident_memory_bytes"), heap: figure("nodejs_heap_size_used_bytes") };
}

async function someVehicles({ url }: RunningServer, count: number): Promise<string[]> {
  const ids: string[] = [];
  for (let i = 0; i < count; i += 1) {
    const body = JSON.stringify({
      label: `Van ${i}`,
      refrigerant: "R-134a",
      nameplate_g: 500 + 10 * i,
      charge_log: [{ date: "2025-06-01", cooling: "weak", added_g: 300 }],
    });
    const answer = await fetch(`${url}/api/vehicles`, { method: "POST", headers: JSON_HERE, body });
    ids.push(((await answer.json()) as { id: string }).id);
  }
  return ids;
}

async function assetsOf({ url }: RunningServer): Promise<string[]> {
  return (await (await fetch(url)).text()).match(ASSETS) ?? [];
}

if (import.meta.main)
  for (const measurement of await memoryBench({ say: console.log })) console.log(lineOf(measurement));
