import type { ImportOptions } from "../../store/transfer.ts";
import type { WorkspaceStore } from "../../store/workspace-store.ts";
import type { TakenIn } from "../edge/take-in.ts";
import { type Pieces, textOf } from "../forms/upload.ts";
import { parseWorkspaceDocument } from "../schemas/transfer-schema.ts";
import { packed } from "./packed.ts";

/**
 * Takes a file of exported records into a workspace, here and now, or says what that would do. Throws what
 * `Transfer.import` throws.
 */
export async function takeInto(store: WorkspaceStore, file: Pieces, options: ImportOptions): Promise<TakenIn> {
  const text = textOf(file);
  const parsed = documentOf(text);
  if (!parsed.ok) return parsed;
  const report = await store.transfer.import(parsed.document, options);
  const { exported_at } = parsed.document;
  return { ok: true, exported_at, report, packed: options.dry_run ? await packed(text) : null };
}

function documentOf(text: string) {
  try {
    return parseWorkspaceDocument(JSON.parse(text));
  } catch (error) {
    if (!(error instanceof SyntaxError)) throw error;
    return { ok: false as const, issues: [{ path: "", message: "This is no exported file: it is not JSON." }] };
  }
}
