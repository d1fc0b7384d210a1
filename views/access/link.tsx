import type { AssetUrl } from "../assets.ts";
import { Layout } from "../layout.tsx";

/** What each role may do, as the person who receives the link reads it. */
const MAY = {
  owner: "see and change everything, and give others access",
  editor: "see and change the records",
  viewer: "see the records",
} as const;

interface LinkPageProps {
  workspace: string;
  role: keyof typeof MAY;
  path: string;
  asset: AssetUrl;
}

/** Asks before an access link is used up: programs that check links in messages must not do that. */
export function LinkPage({ workspace, role, path, asset }: LinkPageProps) {
  return (
    <Layout title={`Open ${workspace}`} path="" asset={asset}>
      <h1 class="page-title">Open {workspace} on this device</h1>
      <p>With this link you can {MAY[role]}. It works once, on the device where you open it.</p>
      <form method="post" action={path}>
        <button type="submit" class="button">
          Open
        </button>
      </form>
    </Layout>
  );
}
