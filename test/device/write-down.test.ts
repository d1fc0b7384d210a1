import { describe, expect, test } from "vitest";
import type { WaitingEntry } from "../../src/core/question/waiting-entry.ts";
import { postOrWait, sendWaiting, withPlainDay } from "../../src/device/sending.ts";
import { TODAY } from "../support/deps.ts";
import { aDevice, waitingInMemory } from "./a-device.ts";

const LOG = "/vehicles/v1/log";
const HERE = "http://localhost";

const WAITS: WaitingEntry = {
  key: "k1",
  path: LOG,
  vehicle: "",
  form: "what=looked&when=1+May+2026&cooling=weak",
  written_at: `${TODAY}T12:00:00.000Z`,
  problem: null,
};

const taken = () => new Response(null, { status: 303, headers: { Location: "/vehicles/v1" } });
const answers = (status: number) => async () => new Response(null, { status });
const notReached = () => Promise.reject(new TypeError("no network"));

function form(fields: Readonly<Record<string, string>>, path = "/write-down") {
  return new Request(HERE + path, { method: "POST", body: new URLSearchParams(fields) });
}

describe("an entry that is written on the device", () => {
  test("waits with the vehicle's name, the day and the units as they were meant", async () => {
    const waiting = waitingInMemory();
    const device = aDevice({ waiting });
    const answer = await device.request(
      form({ vehicle: " the blue van ", what: "topped-off", when: "yesterday", cooling: "weak", added: "6" }),
    );
    expect(answer.status).toBe(303);
    expect(answer.headers.get("Location")).toBe("/waiting");
    const [entry, ...more] = await waiting.all();
    expect(more).toEqual([]);
    expect(entry).toMatchObject({ vehicle: "the blue van", path: null, problem: null });
    expect(Object.fromEntries(new URLSearchParams(entry!.form))).toMatchObject({
      what: "topped-off",
      when: "30 April 2026",
      added: "6 oz",
      cooling: "weak",
    });

    const list = await (await device.request("/waiting")).text();
    expect(list).toContain("the blue van");
    expect(list).toContain("Topped off · 30 April 2026 · 6 oz");
    expect(list).toContain(`href="/vehicles/for-entry?what=topped-off`);
    expect(list).toContain(`waited=${entry!.key}`);
  });

  test("is for the vehicle whose page was asked for", async () => {
    const waiting = waitingInMemory();
    const device = aDevice({ waiting });
    const page = await (await device.request("/vehicles/v1")).text();
    expect(page).toContain('href="/write-down?to=%2Fvehicles%2Fv1%2Flog"');
    expect(await (await device.request(`/write-down?to=${LOG}`)).text()).toContain(`name="to" value="${LOG}"`);
    await device.request(form({ to: LOG, what: "looked", when: "today", cooling: "ok" }));
    expect(await waiting.all()).toMatchObject([{ path: LOG, vehicle: "" }]);
    expect(await (await device.request("/waiting")).text()).not.toContain("Choose its vehicle");
  });

  test.each(["/vehicles", "/vehicles/new", "/settings"])("no vehicle stands at %s", async (path) => {
    expect(await (await aDevice().request(path)).text()).toContain('href="/write-down"');
  });

  test("is asked for what it lacks, with what was typed", async () => {
    const waiting = waitingInMemory();
    const answer = await aDevice({ waiting }).request(
      form({ vehicle: "", what: "topped-off", when: "someday", added: "9 tons" }),
    );
    expect(answer.status).toBe(422);
    const page = await answer.text();
    expect(page).toContain("Enter which vehicle it is");
    expect(page).toContain('value="someday"');
    expect(page).toContain('value="9 tons"');
    expect(await waiting.all()).toEqual([]);
  });

  test.each(["/settings/erase", "//elsewhere.example/log", "/vehicles/v1/archive", "/vehicles/a/b/log"])(
    "is sent to no other address: %s",
    async (to) => {
      const waiting = waitingInMemory();
      await aDevice({ waiting }).request(form({ to, vehicle: "van", what: "looked", when: "today", cooling: "ok" }));
      expect(await waiting.all()).toMatchObject([{ path: null }]);
    },
  );

  test("can be removed", async () => {
    const waiting = waitingInMemory([WAITS, { ...WAITS, key: "k2" }]);
    const answer = await aDevice({ waiting }).request("/waiting/k1/removal", { method: "POST" });
    expect(answer.headers.get("Location")).toBe("/waiting");
    expect((await waiting.all()).map(({ key }) => key)).toEqual(["k2"]);
  });

  test("a list with none says so", async () => {
    expect(await (await aDevice().request("/waiting")).text()).toContain("Nothing waits on this device");
  });

  test("markup in what was typed stays text", async () => {
    const waiting = waitingInMemory([{ ...WAITS, path: null, vehicle: "<b>van</b>", form: "note=<i>x</i>" }]);
    const page = await (await aDevice({ waiting }).request("/waiting")).text();
    expect(page).toContain("&lt;b&gt;van&lt;/b&gt;");
    expect(page).toContain("&lt;i&gt;x&lt;/i&gt;");
  });
});

describe("a form that was open when the connection was lost", () => {
  const sent = () => form({ submit_key: "k9", what: "looked", when: "today", cooling: "weak" }, LOG);
  const post = { now: () => new Date(`${TODAY}T12:00:00Z`), today: TODAY };

  test("waits, its day made plain", async () => {
    const entries = waitingInMemory();
    expect(await postOrWait(sent(), { ...post, entries, send: notReached })).toBeNull();
    expect(await entries.all()).toEqual([
      {
        key: "k9",
        path: LOG,
        vehicle: "",
        form: "submit_key=k9&what=looked&when=1+May+2026&cooling=weak",
        written_at: `${TODAY}T12:00:00.000Z`,
        problem: null,
      },
    ]);
  });

  test.each([502, 503, 504])("waits where a proxy answers for the server: %d", async (status) => {
    const entries = waitingInMemory();
    expect(await postOrWait(sent(), { ...post, entries, send: answers(status) })).toBeNull();
    expect(await entries.all()).toHaveLength(1);
  });

  test("is not kept where the server has something to say", async () => {
    const entries = waitingInMemory();
    expect((await postOrWait(sent(), { ...post, entries, send: answers(422) }))?.status).toBe(422);
    expect(await entries.all()).toEqual([]);
  });

  test("waits no more once it is stored", async () => {
    const entries = waitingInMemory([{ ...WAITS, key: "k9", problem: "to-put-right" }, WAITS]);
    expect((await postOrWait(sent(), { ...post, entries, send: async () => taken() }))?.status).toBe(303);
    expect((await entries.all()).map(({ key }) => key)).toEqual(["k1"]);
  });

  test("without a key, it cannot wait: it could be stored twice", async () => {
    const entries = waitingInMemory();
    const lost = postOrWait(form({ what: "looked" }, LOG), { ...post, entries, send: notReached });
    await expect(lost).rejects.toThrow(TypeError);
    expect(await entries.all()).toEqual([]);
  });
});

describe("sending what waits", () => {
  test("sends each with its key to its vehicle, and forgets it", async () => {
    const entries = waitingInMemory([WAITS, { ...WAITS, key: "k2", path: null }, { ...WAITS, key: "k3" }]);
    const arrived: [string, string][] = [];
    await sendWaiting(entries, HERE, async (request) => {
      arrived.push([new URL(request.url).pathname, await request.text()]);
      return taken();
    });
    expect(arrived).toEqual([
      [LOG, `${WAITS.form}&submit_key=k1`],
      [LOG, `${WAITS.form}&submit_key=k3`],
    ]);
    expect((await entries.all()).map(({ key }) => key)).toEqual(["k2"]);
  });

  test.each([
    [401, "no-access"],
    [403, "no-access"],
    [404, "no-vehicle"],
    [409, "to-put-right"],
    [422, "to-put-right"],
  ])("what is refused with %d stays, as %s", async (status, problem) => {
    const entries = waitingInMemory([WAITS]);
    await sendWaiting(entries, HERE, answers(status));
    expect(await entries.all()).toEqual([{ ...WAITS, problem }]);
  });

  test("what has to be put right is not sent again; what lacked access is", async () => {
    const entries = waitingInMemory([
      { ...WAITS, key: "k1", problem: "to-put-right" },
      { ...WAITS, key: "k2", problem: "no-access" },
      { ...WAITS, key: "k3", problem: "no-vehicle" },
    ]);
    await sendWaiting(entries, HERE, async () => taken());
    expect((await entries.all()).map(({ key }) => key)).toEqual(["k1"]);
  });

  test.each([
    ["not reached", notReached],
    ["told to wait", answers(429)],
    ["stopped", answers(503)],
  ] as const)("ends at the first where the server is %s, and keeps all", async (_why, send) => {
    const entries = waitingInMemory([WAITS, { ...WAITS, key: "k2" }]);
    let asked = 0;
    await sendWaiting(entries, HERE, () => {
      asked += 1;
      return send();
    });
    expect(asked).toBe(1);
    expect(await entries.all()).toEqual([WAITS, { ...WAITS, key: "k2" }]);
  });
});

test.each([
  ["today", "1 May 2026"],
  ["yesterday", "30 April 2026"],
  ["3 weeks ago", "about 10 April 2026"],
  ["2 years ago", "about May 2024"],
  ["14 Aug 2025", "14 Aug 2025"],
  ["last summer", "last summer"],
  ["someday", "someday"],
  ["", ""],
])("the day %j is sent as %j", (typed, plain) => {
  expect(new URLSearchParams(withPlainDay(`when=${encodeURIComponent(typed)}&note=x`, TODAY)).get("when")).toBe(plain);
});
