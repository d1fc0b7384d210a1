import type { AssetUrl } from "../assets.ts";
import { Layout } from "../layout.tsx";
import { WRITE_DOWN, WRITE_DOWN_PATH } from "../words/on-device.ts";

interface NoConnectionPageProps {
  /** The log of the vehicle that was asked for; null where none was. */
  log: string | null;
  asset: AssetUrl;
}

/** In place of a page that only the server has. */
export function NoConnectionPage({ log, asset }: NoConnectionPageProps) {
  const write_down = log === null ? WRITE_DOWN_PATH : `${WRITE_DOWN_PATH}?${new URLSearchParams({ to: log })}`;
  return (
    <Layout title="No connection" path="" asset={asset}>
      <h1 class="page-title">This page needs a connection</h1>
      <div class="needs-connection">
        <p>Records are not kept on this device. Load the page again once there is a connection.</p>
        <p>What you do now can wait here for its vehicle's log:</p>
        <p class="actions">
          <a class="button" href={write_down}>
            {WRITE_DOWN}
          </a>
        </p>
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
