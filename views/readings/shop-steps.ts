/**
 * What tells where gauges cannot, in the order in which a shop would do it. Figures of the vacuum test: US Army
 * TM 5-3805-296-23-4, WP 0248 and TM 5-2420-230-24-1; nitrogen: common practice, no source.
 */
export const SHOP_STEPS: readonly { step: string; why: string }[] = [
  { step: "Identifier", why: "What gas is in it, before any machine is connected: wrong, mixed, or with air." },
  {
    step: "Recover and weigh",
    why: "The only sure answer to how much was in it. Then it is charged to the nameplate by weight.",
  },
  {
    step: "Vacuum decay",
    why: "Pumped to 28–29 inHg (1 inHg less per 1000 ft of altitude), held; a rise of more than 2 inHg in 5 minutes is a leak. It can miss a leak that opens only under pressure.",
  },
  {
    step: "Nitrogen",
    why: "Dry nitrogen under pressure, with a regulator and a relief valve, finds what a vacuum misses. Never compressed air.",
  },
  { step: "Electronic detector", why: "Finds where it leaks once there is enough pressure in it." },
];
