/** The meanings of colour that a chart draws with, as the stylesheet names them. */
const MEANINGS = [
  "canvas",
  "ink",
  "ink-soft",
  "hairline",
  "field-line",
  "charge",
  "release",
  "money",
  "careful",
] as const;

export type Palette = Readonly<Record<(typeof MEANINGS)[number] | "font", string>>;

/**
 * The colours of the page as they are now: light, dark, forced or for print. Read through an element's `color`, because
 * a custom property is handed out unresolved.
 */
export function currentPalette(): Palette {
  const probe = document.body.appendChild(document.createElement("span"));
  probe.style.setProperty("forced-color-adjust", "none");
  const palette = Object.fromEntries(
    MEANINGS.map((meaning) => {
      probe.style.color = `var(--${meaning})`;
      return [meaning, getComputedStyle(probe).color];
    }),
  );
  const font = getComputedStyle(probe).fontFamily;
  probe.remove();
  return { ...palette, font } as Palette;
}

/** A colour of the palette (computed, so `rgb(…)`), let through by `alpha` from 0 to 1. */
export function faded(color: string, alpha: number): string {
  return color.replace(/^rgb\((.*)\)$/, `rgba($1, ${alpha})`);
}
