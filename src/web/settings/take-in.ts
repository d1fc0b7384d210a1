import type { ImportOptions } from "../../store/transfer.ts";
import type { WorkspaceStore } from "../../store/workspace-store.ts";
import type { TakenIn } from "../edge/take-in.ts";
import { parseWorkspaceDocument } from "../schemas/transfer-schema.ts";

/**
 * Takes the text of a file of exported records into a workspace, here and now. Throws what `Transfer.import` throws.
 */
export async function takeInto(store: WorkspaceStore, text: string, options: ImportOptions): Promise<TakenIn> {
  const parsed = documentOf(text);
  if (!parsed.ok) return parsed;
  const report = await store.transfer.import(parsed.document, options);
  return { ok: true, exported_at: parsed.document.exported_at, report };
}

function documentOf(text: string) {
  try {
    return parseWorkspaceDocument(JSON.parse(text));
  } catch (error) {
    if (!(error instanceof SyntaxError)) throw error;
    return { ok: false as const, issues: [{ path: "", message: "This is no exported file: it is not JSON." }] };
  }
}
