import type { AssetUrl } from "../assets.ts";
import { Layout } from "../layout.tsx";
import { TextField } from "../parts/field.tsx";
import { FormFoot } from "../parts/form-foot.tsx";

interface SignInPageProps {
  /** As it was typed. */
  link: string;
  error: string | null;
  asset: AssetUrl;
}

/** `/access`, and the answer to whoever has no access: how to get in, and a place for a link that was copied. */
export function SignInPage({ link, error, asset }: SignInPageProps) {
  const errors = error === null ? [] : [{ field: "link", message: error }];
  return (
    <Layout title="An access link is needed" path="" asset={asset} errors={errors}>
      <h1 class="page-title">An access link is needed</h1>
      <p class="page-lead">
        Open the link you were given in this browser, or paste it here. Each link works once. If yours is used up, ask
        for a new one.
      </p>
      <form class="stack" method="post" action="/access" novalidate>
        <TextField
          id="link"
          name="link"
          label="Access link"
          hint="All of it, up to its last letter"
          value={link}
          error={error ?? undefined}
        />
        <FormFoot submit="Go on" />
      </form>
      <p>
        New here? Start with <a href="/">the quick question</a>. Saving a vehicle creates your own records.
      </p>
    </Layout>
  );
}
