import { Problem } from "../../core/problem.ts";

interface RoomOptions {
  /** What one workspace may take. */
  limit_bytes: number;
  /** At most what any workspace takes, told without reading it: the size of the whole file, or of its own object. */
  most(): number;
  /** What a workspace takes; reads all of it. */
  measure(workspace_id: string): Promise<number>;
  now(): Date;
}

/** How long a measurement holds, with what is added to it meanwhile. */
const HOLDS_MS = 3600_000;
/** Whoever is refused may have deleted something since: then it is measured again, but not more often than this. */
const AGAIN_MS = 3000;
/** Workspaces whose size is remembered. */
const REMEMBERED = 1000;

/** How much room each workspace has. As long as all of them together take less than one may, nothing is measured. */
export class Room {
  readonly #options: RoomOptions;
  readonly #known = new Map<string, { bytes: number; at_ms: number }>();
  readonly #measuring = new Map<string, Promise<number>>();

  constructor(options: RoomOptions) {
    this.#options = options;
  }

  /** Counts `bytes` as added to a workspace. Throws `Problem` no-room when it has no room for them. */
  async take(workspace_id: string, bytes: number): Promise<void> {
    const { limit_bytes, most } = this.#options;
    if (most() + bytes <= limit_bytes) return;
    let taken = this.#age(workspace_id) < HOLDS_MS ? this.#known.get(workspace_id)!.bytes : null;
    if (taken === null || (taken + bytes > limit_bytes && this.#age(workspace_id) >= AGAIN_MS))
      taken = await this.#measured(workspace_id);
    if (taken + bytes > limit_bytes) throw noRoom(taken, limit_bytes, bytes);
    const known = this.#known.get(workspace_id);
    if (known !== undefined) known.bytes += bytes;
  }

  /** Milliseconds since a workspace was measured: without end where it was not, or where the clock went back. */
  #age(workspace_id: string): number {
    const known = this.#known.get(workspace_id);
    const ms = known === undefined ? -1 : this.#options.now().getTime() - known.at_ms;
    return ms < 0 ? Number.POSITIVE_INFINITY : ms;
  }

  async #measured(workspace_id: string): Promise<number> {
    let measuring = this.#measuring.get(workspace_id);
    if (measuring === undefined) {
      measuring = this.#options.measure(workspace_id).finally(() => this.#measuring.delete(workspace_id));
      this.#measuring.set(workspace_id, measuring);
    }
    const bytes = await measuring;
    this.#known.delete(workspace_id);
    this.#known.set(workspace_id, { bytes, at_ms: this.#options.now().getTime() });
    for (const oldest of this.#known.keys()) {
      if (this.#known.size <= REMEMBERED) break;
      this.#known.delete(oldest);
    }
    return bytes;
  }
}

function noRoom(taken: number, limit: number, more: number): Problem {
  const said = (bytes: number) => `${Math.max(1, Math.round(bytes / 1e6)).toLocaleString("en-US")} MB`;
  const sent = more >= 1e6 ? ` This would have added ${said(more)}.` : "";
  return new Problem(
    "no-room",
    `These records take ${said(taken)} of the ${said(limit)} that there is room for, so nothing of this was saved.${sent} Viewing, exporting and deleting still work: take back an import that is not needed, or ask whoever runs this site for more room.`,
  );
}

/** What makes room, or keeps nothing: it is done however little room is left. */
const MAKES_ROOM =
  /\/(?:removals?|erasure|erase|discard|revocation|archive|archival|withdraw|stop|leave|sums|preview)$|^\/fleet\/import\/\w+\/(?:undo|back)$|^\/settings\/import$|^\/api\/(?:assess|readings)$/;

/** Whether a request that would change something needs room for it. */
export function needsRoom(method: string, path: string): boolean {
  return method !== "DELETE" && !MAKES_ROOM.test(path);
}
