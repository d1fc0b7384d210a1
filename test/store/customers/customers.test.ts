import { describe, expect, test } from "vitest";
import { Conflict } from "../../../src/store/errors.ts";
import { engines } from "../engines.ts";
import { VAN } from "../samples.ts";
import { CustomersDatabase, ON_PAPER, ROBIN, VIN } from "./customers-database.ts";

describe.each(engines)("customers on $name", ({ start }) => {
  const database = new CustomersDatabase(start);

  test.each([
    ["part of a name", "feather", "Robin Featherstone"],
    ["both names, in any order", "featherstone ROBIN", "Robin Featherstone"],
    ["a name without its accents", "ozturk", "Kim Öztürk"],
    ["a plate, spaced otherwise", "xr7402", "Robin Featherstone"],
    ["a VIN in small letters", VIN.toLowerCase(), "Robin Featherstone"],
    ["the end of a VIN", "042788", "Robin Featherstone"],
    ["a telephone number, spaced otherwise", "5550100142", "Robin Featherstone"],
    ["one with its code where none is stored", "+49 171 2345678", "Kim Öztürk"],
    ["one without its code where one is stored", "(555) 010 0142", "Robin Featherstone"],
    ["a vehicle in the shop's words", "truck 7", "Kim Öztürk"],
    ["an e-mail address", "robin@example.com", "Robin Featherstone"],
  ])("are found by %s", async (_what, search, name) => {
    const { store } = await database.withTwo();
    expect((await store.customers.list({ search })).items.map((one) => one.name)).toEqual([name]);
  });

  test("are found page by page, by name, each with their vehicles", async () => {
    const { store, sedan } = await database.withTwo();
    const first = await store.customers.list({ limit: 1 });
    expect(first.items.map(({ name }) => name)).toEqual(["Kim Öztürk"]);
    const second = await store.customers.list({ limit: 1, after: first.next });
    expect(second.items).toMatchObject([
      { name: "Robin Featherstone", vehicles: [{ id: sedan.id, ...ON_PAPER, label: "Featherstone's sedan" }] },
    ]);
    expect(second.next).toBeNull();
    expect((await store.customers.list({ search: "nobody of that name" })).items).toEqual([]);
  });

  test("make their vehicles found by name, plate and VIN among the vehicles, too", async () => {
    const { store, sedan } = await database.withTwo();
    for (const search of ["robin", "xr-7", "XR7402", VIN])
      expect(
        (await store.vehicles.list({ search })).items.map(({ id }) => id),
        search,
      ).toEqual([sedan.id]);
  });

  test("a change names the version that was seen", async () => {
    const { store, robin, sedan } = await database.withTwo();
    const changed = await store.customers.update(robin.id, 1, { ...ROBIN, phone: "555 0199" });
    expect(changed).toMatchObject({ version: 2, phone: "555 0199" });
    await expect(store.customers.update(robin.id, 1, ROBIN)).rejects.toThrow(Conflict);
    await store.customers.setParticulars(sedan.id, 1, { ...ON_PAPER, plate: "NEW 1", customer_id: robin.id });
    await expect(store.customers.setParticulars(sedan.id, 1, { ...ON_PAPER, customer_id: null })).rejects.toThrow(
      Conflict,
    );
    expect((await store.customers.list({ search: "new1" })).items).toHaveLength(1);
  });

  test("the same press arriving twice makes one customer", async () => {
    const store = await database.newStore();
    const [one, two] = [await store.customers.create(ROBIN, "key"), await store.customers.create(ROBIN, "key")];
    expect(two).toEqual(one);
    expect((await store.customers.list()).items).toHaveLength(1);
  });

  test("belong to one workspace", async () => {
    const { robin, sedan } = await database.withTwo();
    const elsewhere = await database.newStore();
    await expect(elsewhere.customers.get(robin.id)).rejects.toMatchObject({ code: "not-found" });
    await expect(elsewhere.customers.particulars(sedan.id)).rejects.toMatchObject({ code: "not-found" });
    const own = await elsewhere.vehicles.create(VAN);
    await expect(
      elsewhere.customers.setParticulars(own.id, 0, { ...ON_PAPER, customer_id: robin.id }),
    ).rejects.toMatchObject({ code: "not-found" });
  });
});
