import { describe, expect, test } from "vitest";
import { newStore } from "../../store/engines.ts";
import { VAN } from "../../store/samples.ts";
import { linksRuntimes } from "../../support/links-app.ts";
import { textOf } from "../../support/page-form.ts";
import { ShopDesk } from "./shop-desk.ts";

describe.each(linksRuntimes)("quotes on $name", ({ start }) => {
  const desk = new ShopDesk(start);

  describe("who may", () => {
    test("someone from another workspace finds no page of it", async () => {
      const { path } = await desk.send();
      const stranger = await desk.as("owner", await newStore(desk.app.sql));
      for (const there of [path, `${path}/preview`, `/vehicles/${desk.vehicle}/quotes`])
        expect((await stranger.get(there)).status, there).toBe(404);
      for (const there of [
        path,
        `${path}/link`,
        `${path}/withdraw`,
        `${path}/revise`,
        `${path}/work`,
        `${path}/discard`,
      ])
        expect((await stranger.post(there, { version: "2" })).status, there).toBe(404);
      expect(textOf(await (await stranger.get("/quotes")).text())).toContain("No quotes yet");
    });

    test("a quote is not found under another vehicle", async () => {
      const { path } = await desk.send();
      const { id } = await desk.store.vehicles.create({ ...VAN, label: "Other" });
      expect((await desk.shop.get(path.replace(desk.vehicle, id))).status).toBe(404);
    });

    test("a viewer sees and changes nothing", async () => {
      const { path } = await desk.send();
      const viewer = await desk.as("viewer");
      for (const there of [
        path,
        `${path}/preview`,
        `/vehicles/${desk.vehicle}/quotes`,
        "/quotes",
        "/prices",
        "/prices/retail",
      ])
        expect((await viewer.get(there)).status, there).toBe(200);
      expect(await viewer.page(path)).not.toContain("Make a new link");
      for (const there of [
        `/vehicles/${desk.vehicle}/quotes`,
        path,
        `${path}/link`,
        `${path}/withdraw`,
        `${path}/revise`,
        `${path}/work`,
        "/prices",
        "/prices/letterhead",
        "/prices/retail",
        "/prices/retail/archive",
      ])
        expect((await viewer.post(there, { version: "0" })).status, there).toBe(403);
    });
  });
});
