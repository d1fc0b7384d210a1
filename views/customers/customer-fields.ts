/** What is said of a person, as it was typed. */
export interface CustomerFields {
  name: string;
  phone: string;
  email: string;
  address: string;
  note: string;
  /** Empty for that of the shop's papers. */
  language: string;
}

/** A vehicle as papers name it, as it was typed. */
export interface ParticularsFields {
  words: string;
  plate: string;
  vin: string;
  odometer: string;
  /** Id of a customer; empty for nobody. */
  customer_id: string;
}

/** A vehicle that is entered together with its particulars. */
export interface OwnedVehicleFields extends Omit<ParticularsFields, "customer_id"> {
  refrigerant: string;
  nameplate: string;
  label: string;
}
