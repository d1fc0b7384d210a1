/** A cylinder as typed. */
export interface CylinderFields {
  name: string;
  refrigerant: string;
  condition: string;
  most: string;
  retired: boolean;
}

/** What came or went, or what the scale showed, as typed. */
export interface MoveFields {
  kind: string;
  when: string;
  amount: string;
  move_note: string;
}

/** Who did an entry, and with which cylinders, as typed. */
export interface RefrigerantWorkFields {
  technician: string;
  certificate: string;
  /** Ids of cylinders; empty for none. */
  recovered_into: string;
  charged_from: string;
}
