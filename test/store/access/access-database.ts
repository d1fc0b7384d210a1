import { Database } from "../database.ts";
import { random } from "../engines.ts";

/** A database and the edge that asks it. */
export class AccessDatabase extends Database {
  /** The edge on a day of its own, which a test can move. */
  edgeAt(instant = "2026-05-01T12:00:00Z") {
    const edge = { sql: this.sql, random, ms: Date.parse(instant), now: () => new Date(edge.ms) };
    return edge;
  }
}
