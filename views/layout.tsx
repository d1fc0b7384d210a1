import type { Child } from "hono/jsx";
import type { AssetUrl } from "./assets.ts";
import { CANVAS } from "./canvas.ts";
import { Masthead } from "./navigation.tsx";
import { ErrorSummary, type FieldError } from "./parts/error-summary.tsx";

interface TitleProps {
  title: string;
  /** Whose page it is. */
  by?: string;
  /** What is to be put right in the form on the page. */
  errors?: readonly FieldError[];
  /** The title where something is. */
  error?: ((title: string) => string) | undefined;
}

/** What the frame says on a paper for someone outside. */
interface PaperWords {
  /** BCP 47. */
  language: string;
  skip: string;
  made_with: string;
  error(title: string): string;
  /** Over what is to be put right; "" where nothing is. */
  faults: string;
}

interface LayoutProps extends TitleProps {
  /** Path of the page, to mark it in the menu. */
  path: string;
  asset: AssetUrl;
  /** Whether the page has charts, an answer's or a fleet's, and parts that change in place. */
  charts?: boolean | "fleet";
  /** Whether the page has parts that change in place, without charts. */
  live?: boolean;
  /** Whether the page has two columns where there is room. */
  wide?: boolean;
  /** Whether it is a paper: without the product's menu, and hidden from search engines. */
  document?: boolean;
  /** Set for a paper in the language of someone outside. */
  paper?: PaperWords;
  /** Says what the page is about where a link to it is listed. */
  description?: string;
  /** Whether the layout says what is to be put right; not where a part that changes in place says it. */
  summary?: boolean;
  children: Child;
}

/** The one page frame: language, title, skip link, landmarks, styles and scripts. */
export function Layout(props: LayoutProps) {
  const {
    title,
    by = "Seepwise",
    errors = [],
    summary = true,
    path,
    asset,
    charts = false,
    live = charts !== false,
    wide = false,
    document = props.paper !== undefined,
    paper,
    description,
    children,
  } = props;
  return (
    <html lang={paper?.language ?? "en"} data-device={document ? undefined : asset("device.js")}>
      <head>
        <meta charset="utf-8" />
        <meta name="viewport" content="width=device-width, initial-scale=1" />
        <PageTitle title={title} by={by} errors={errors} error={paper?.error} />
        {description !== undefined && <meta name="description" content={description} />}
        {document && <meta name="robots" content="noindex, nofollow, noarchive" />}
        <meta name="color-scheme" content="light dark" />
        <meta name="theme-color" content={CANVAS.light} media="(prefers-color-scheme: light)" />
        <meta name="theme-color" content={CANVAS.dark} media="(prefers-color-scheme: dark)" />
        <meta name="htmx-config" content='{"morphIgnore":["data-htmx-powered","open","data-folded"]}' />
        <link rel="preload" as="font" type="font/woff2" href={asset("slab.woff2")} crossorigin="" />
        <link rel="stylesheet" href={asset("app.css")} />
        <link rel="icon" type="image/svg+xml" href={asset("mark.svg")} />
        {!document && <link rel="apple-touch-icon" href={asset("icon-192.png")} />}
        {!document && <link rel="manifest" href={asset("app.webmanifest")} />}
        <script type="module" src={asset("app.js")} />
        {live && <script defer src={asset("htmx.js")} />}
        {charts !== false && <script type="module" src={asset(charts === "fleet" ? "fleet-charts.js" : "charts.js")} />}
      </head>
      <body class={wide ? "wide" : undefined}>
        <a class="skip-link" href="#main">
          {paper?.skip ?? "Skip to the content"}
        </a>
        {!document && <Masthead path={path} />}
        <main id="main" class="sheet" tabindex={-1}>
          {summary && errors.length > 0 && <ErrorSummary errors={errors} title={paper?.faults} />}
          {children}
        </main>
        {document ? (
          <Imprint text={paper?.made_with ?? "Made with Seepwise."} />
        ) : (
          <Colophon estimate={path !== "/settings"} />
        )}
      </body>
    </html>
  );
}

/** The title of a page, as its tab shows it. */
export function PageTitle({ title, by = "Seepwise", errors = [], error = (of) => `Error: ${of}` }: TitleProps) {
  return (
    <title>
      {errors.length > 0 ? error(title) : title} · {by}
    </title>
  );
}

/** The foot of a page. `estimate`: not on the settings, which estimate nothing and send nobody to work. */
function Colophon({ estimate }: { estimate: boolean }) {
  return (
    <footer class="colophon">
      {estimate && <p>An estimate, not an inspection. Local code says who may handle refrigerant.</p>}
      <p>
        <a href="/method">How it is calculated</a>
      </p>
    </footer>
  );
}

function Imprint({ text }: { text: string }) {
  return (
    <footer class="colophon">
      <p>{text}</p>
    </footer>
  );
}
