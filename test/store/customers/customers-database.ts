import type { CustomerInput } from "../../../src/store/customers.ts";
import { Database } from "../database.ts";
import { TRUCK, VAN } from "../samples.ts";

export const ROBIN: CustomerInput = {
  name: "Robin Featherstone",
  phone: "+1 (555) 010-0142",
  email: "robin@example.com",
  address: "3 Hill Road\nEastbrook",
  note: "pays late",
};

const KIM: CustomerInput = { name: "Kim Öztürk", phone: "0171 2345678", email: "", address: "", note: "" };

/** A VIN whose check digit fits: the worked example of 49 CFR 565.15(c), as it is widely reprinted. */
export const VIN = "1M8GDM9AXKP042788";

export const ON_PAPER = { words: "2014 sedan, silver", plate: "XR-7 402", vin: VIN, odometer: "84,200 miles" };
/** A database with two customers and a vehicle of each. */
export class CustomersDatabase extends Database {
  async withTwo() {
    const store = await this.newStore();
    const robin = await store.customers.create(ROBIN);
    const kim = await store.customers.create(KIM);
    const particulars = { ...ON_PAPER, customer_id: robin.id };
    const sedan = await store.vehicles.create({ ...VAN, label: "Featherstone's sedan" }, { particulars });
    const truck = await store.vehicles.create(TRUCK);
    await store.customers.setParticulars(truck.id, 0, {
      ...ON_PAPER,
      vin: "",
      plate: "KM 11",
      customer_id: kim.id,
    });
    return { store, robin, kim, sedan, truck };
  }
}
