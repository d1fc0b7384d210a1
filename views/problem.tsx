import type { Issue } from "../src/core/problem.ts";
import type { AssetUrl } from "./assets.ts";
import { Layout } from "./layout.tsx";

interface ProblemProps {
  title: string;
  message: string;
  issues: readonly Issue[];
}

/** A whole page that says what could not be done and what to do next. */
export function ProblemPage({ title, message, issues, asset }: ProblemProps & { asset: AssetUrl }) {
  return (
    <Layout title={title} path="" asset={asset}>
      <h1 class="page-title">{title}</h1>
      <ProblemText message={message} issues={issues} />
      <p>
        <a href="/">Start page</a>
      </p>
    </Layout>
  );
}

/** The same inside a page, in place of the part that was asked for. */
export function ProblemFragment({ title, message, issues }: ProblemProps) {
  return (
    <div class="problem" role="alert">
      <h2>{title}</h2>
      <ProblemText message={message} issues={issues} />
    </div>
  );
}

function ProblemText({ message, issues }: Omit<ProblemProps, "title">) {
  return (
    <>
      <p>{message}</p>
      {issues.length > 0 && (
        <ul>
          {issues.map((issue) => (
            <li>{issue.message}</li>
          ))}
        </ul>
      )}
    </>
  );
}
