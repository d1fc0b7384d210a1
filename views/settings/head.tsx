import { Places } from "../parts/places.tsx";

/** The pages about the settings, and who may see them. */
const PAGES = [
  { href: "/settings", name: "Units and place", owner: false },
  { href: "/settings/access", name: "Access and calendar", owner: true },
  { href: "/settings/webhook", name: "Webhook", owner: true },
  { href: "/settings/records", name: "Export, import, backup", owner: false },
] as const;

export type SettingsPath = (typeof PAGES)[number]["href"];

interface SettingsHeadProps {
  path: SettingsPath;
  /** Whether the one who looks is an owner. */
  owner: boolean;
}

/** The name of the page, and the way to those beside it. */
export function SettingsHead({ path, owner }: SettingsHeadProps) {
  const shown = PAGES.filter((page) => owner || !page.owner);
  return (
    <header class="settings-head">
      <p class="page-name">Settings</p>
      <h1 class="page-title">{PAGES.find(({ href }) => href === path)!.name}</h1>
      <nav aria-label="Settings">
        <Places class="places" places={shown} path={path} />
      </nav>
    </header>
  );
}
