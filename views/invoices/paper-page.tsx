import type { AssetUrl } from "../assets.ts";
import { Layout } from "../layout.tsx";
import { paperWords } from "../quotes/offer-page.tsx";
import { InvoicePaper, type InvoicePaperProps, paperName, saidOnPaper } from "./invoice-paper.tsx";

interface PaperPageProps extends InvoicePaperProps {
  number: number;
  /** Address of the shop's own page. */
  back: string;
  asset: AssetUrl;
}

/** `/invoices/:id/paper`: the invoice alone, to be printed or saved as PDF. */
export function PaperPage({ back, asset, ...paper }: PaperPageProps) {
  const { kind, number, document } = paper;
  return (
    <Layout
      title={paperName(kind, document, number)}
      by={document.letterhead.shop}
      path=""
      asset={asset}
      paper={paperWords(saidOnPaper(document), 0)}
    >
      <p class="way-back screen-only" lang="en">
        <a href={back}>Back to the invoice</a>. To print it or save it as PDF, use your browser's print.
      </p>
      <InvoicePaper {...paper} />
    </Layout>
  );
}
