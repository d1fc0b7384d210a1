import { expect, test } from "vitest";
import { fleetApp } from "../support/fleet-app.ts";

async function withFleet() {
  const desk = await fleetApp("2026-05-01");
  await desk.imported(desk.inventedCsv(12));
  const vehicles = (await desk.store.vehicles.list()).items;
  const post = (fields: [string, string][]) =>
    desk.app.request("/fleet/change", {
      method: "POST",
      headers: { Origin: "http://localhost", "Content-Type": "application/x-www-form-urlencoded" },
      body: new URLSearchParams(fields).toString(),
    });
  const [a, b] = [vehicles[0]!, vehicles[1]!];
  const both: [string, string][] = [
    ["v", a.id],
    ["v", b.id],
  ];
  return { ...desk, post, a, b, both };
}

test("group and depot of ticked vehicles are set at once, and put back as they were", async () => {
  const { store, post, a, b, both, textOf } = await withFleet();
  expect(await textOf(`/fleet/change?v=${a.id}&v=${b.id}`)).toContain("2 vehicles selected");
  const page = await (await post([...both, ["what", "set"], ["depot", "New yard"], ["group", ""]])).text();
  expect(page).toContain("2 vehicles changed");
  expect((await store.vehicles.get(a.id)).depot).toBe("New yard");
  expect((await store.vehicles.get(a.id)).fleet_group).toBe(a.fleet_group);
  const was = /name="was" value="([^"]*)"/.exec(page)![1]!.replaceAll("&quot;", '"');
  await post([...both, ["what", "back"], ["was", was]]);
  for (const one of [a, b]) expect((await store.vehicles.get(one.id)).depot).toBe(one.depot);
  expect((await post([...both, ["what", "set"]])).status).toBe(422);
  const long = await post([...both, ["what", "set"], ["group", "g".repeat(121)], ["depot", "New yard"]]);
  expect(long.status).toBe(422);
  const given_back = await long.text();
  expect(given_back).toContain("Keep to 120 characters: this is 1 too long");
  expect(given_back).toContain('value="New yard"');
  expect((await store.vehicles.get(a.id)).depot).toBe(a.depot);
});

test("all that the filters leave are changed together", async () => {
  const { textOf, store } = await withFleet();
  const group = (await store.vehicles.list()).items[0]!.fleet_group!;
  const meant = (await store.vehicles.list({ fleet_group: group })).items;
  expect(await textOf(`/fleet?all=yes`)).toContain('formaction="/fleet/change"');
  const page = await textOf(`/fleet/change?${new URLSearchParams({ all: "yes", group })}`);
  expect(page).toContain(`${meant.length} vehicles selected`);
  for (const { id } of meant) expect(page).toContain(`name="v" value="${id}"`);
});

test("kind and years kept of ticked vehicles are set at once, and put back; what is left empty stays", async () => {
  const { store, post, a, b, both } = await withFleet();
  await store.vehicles.update(b.id, b.version, { ...b, plan: { keep_years: 2 } });
  const page = await (await post([...both, ["what", "set"], ["kind", "bus"], ["keep_years", "7,5"]])).text();
  expect(page).toContain("2 vehicles changed");
  for (const { id, fleet_group, depot } of [a, b])
    expect(await store.vehicles.get(id)).toMatchObject({ kind: "bus", plan: { keep_years: 7.5 }, fleet_group, depot });
  const was = /name="was" value="([^"]*)"/.exec(page)![1]!.replaceAll("&quot;", '"');
  await post([...both, ["what", "back"], ["was", was]]);
  expect(await store.vehicles.get(a.id)).toMatchObject({ kind: a.kind, plan: {} });
  expect((await store.vehicles.get(b.id)).plan).toEqual({ keep_years: 2 });
  const wrong = await post([...both, ["what", "set"], ["kind", "boat"], ["keep_years", "50"], ["depot", "New yard"]]);
  expect(wrong.status).toBe(422);
  const given_back = await wrong.text();
  for (const words of ["Choose what they are", "Enter years from 0.25 to 20", 'value="50"', 'value="New yard"'])
    expect(given_back).toContain(words);
  expect((await store.vehicles.get(a.id)).depot).toBe(a.depot);
});

test("ticked vehicles are archived at once, and taken out again", async () => {
  const { store, post, a, both } = await withFleet();
  expect(await (await post([...both, ["what", "archive"]])).text()).toContain("2 vehicles archived");
  expect(await store.vehicles.count()).toBe(10);
  expect(await (await post([...both, ["what", "restore"]])).text()).toContain("2 vehicles in use again");
  expect((await store.vehicles.get(a.id)).archived_at).toBeNull();
});

test("“cooled well” is entered for ticked vehicles alone, also after a day that could not be read", async () => {
  const { store, post, a, both } = await withFleet();
  const wrong = await post([...both, ["what", "cooled"], ["date", "someday"]]);
  expect(wrong.status).toBe(422);
  const page = await wrong.text();
  expect(page).toContain('value="someday"');
  expect(page.match(/name="v"/g)?.length).toBeGreaterThanOrEqual(2);
  const before = await store.chargeLog.list(a.id);
  const text = await (await post([...both, ["what", "cooled"], ["date", "today"]])).text();
  expect(text).toContain("“Cooled well” entered for 2 vehicles");
  expect(await store.chargeLog.list(a.id)).toHaveLength(before.length + 1);
  const others = (await store.vehicles.list()).items.filter(({ id }) => !both.some(([, one]) => one === id));
  for (const { id } of others)
    expect((await store.chargeLog.list(id)).filter(({ date }) => date === "2026-05-01")).toEqual([]);
});
