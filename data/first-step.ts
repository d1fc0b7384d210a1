/**
 * The cheapest repair there is, before any test or top-off: what is done, with its cautions. That the cap is the port's
 * main seal stands in makers' service manuals (1997, 2016, 2022; the last two tighten it to 0.8 N·m). The price of
 * caps: common practice, no source.
 */
export const FIRST_STEP = {
  /** Two sealing caps, in the currency of the question. */
  caps_price: 10,
  source: "Makers' service manuals of 1997, 2016 and 2022: the cap, with its O-ring, is the port's main seal.",
  steps: [
    {
      does: "Take the caps off both ports, one at a time. Look for oil in the cap and around the core, and for a seal inside the cap.",
      caution: "Engine off and cold. Wear goggles and gloves, and never push on the core: it sprays and freezes skin.",
    },
    {
      does: "Screw on new caps with an O-ring inside, made for this refrigerant and this port. Tighten them by hand.",
      caution: null,
    },
    {
      does: "Have a shop replace the valve cores, under pressure with the tool made for that, or whenever the system is empty.",
      caution: "Never unscrew a core without that tool while there is pressure: the whole charge comes out at once.",
    },
  ],
} as const;
