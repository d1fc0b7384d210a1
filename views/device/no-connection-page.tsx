import type { AssetUrl } from "../assets.ts";
import { Layout } from "../layout.tsx";

/** In place of a page that only the server has. */
export function NoConnectionPage({ asset }: { asset: AssetUrl }) {
  return (
    <Layout title="No connection" path="" asset={asset}>
      <h1 class="page-title">This page needs a connection</h1>
      <div class="needs-connection">
        <p>Records are not kept on this device. Load the page again once there is a connection.</p>
        <p>These work without one:</p>
        <ul class="works-offline">
          <li>
            <a href="/">The question and its answer</a>
          </li>
          <li>
            <a href="/readings">Readings and what they mean</a>
          </li>
          <li>
            <a href="/leak-tests">Leak tests</a>
          </li>
          <li>
            <a href="/rules">Local rules</a>
          </li>
          <li>
            <a href="/method">How it is calculated</a>
          </li>
        </ul>
        <p>So does the top-off plan: it follows from an answer to the question.</p>
      </div>
    </Layout>
  );
}
