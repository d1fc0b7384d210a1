import type { CanSeal, RefrigerantId } from "../src/core/question/contract.ts";

/**
 * The words of the top-off plan: what to have, what to do in which order with the caution at the step, and what stops
 * the job. Common practice, no source, except where a rule of `data/rules.ts` is meant. Names in braces are filled in
 * from the plan: `{first}` and `{total}` grams into the system, `{part}` a small part, `{low}` and `{high}` the expected
 * pressures, `{low_top}` and `{high_top}` their upper ends.
 */

/** When a tool, a step or a caution applies; what is left out always does. */
export interface Applies {
  readonly refrigerants?: readonly RefrigerantId[];
  readonly seals?: readonly CanSeal[];
  /** Steps of the first, sure amount; of the small parts after it; only with a known ambient temperature. */
  readonly needs?: "sure-amount" | "parts" | "targets";
}

export interface Tool {
  readonly id: string;
  readonly name: string;
  readonly why: string;
  readonly applies?: Applies;
}

export const TOOLS: readonly Tool[] = [
  { id: "gloves", name: "Insulated gloves", why: "Escaping refrigerant freezes skin." },
  { id: "goggles", name: "Goggles that close at the sides", why: "A spurt into an eye can blind." },
  {
    id: "gauges",
    name: "A two-gauge set for this refrigerant",
    why: "A low-side gauge alone says nothing about the high side. A basic set costs about 50, a good one 150–200.",
  },
  {
    id: "scale",
    name: "A kitchen scale, to 1 g or 5 g",
    why: "Weighing the can is the only honest measure of what went in.",
  },
  {
    id: "thermometer",
    name: "A thermometer for the vent",
    why: "Vent air tells when to stop better than pressure does.",
  },
  {
    id: "tap-self-sealing-134a",
    name: "A tap for self-sealing cans, without a piercing pin, right-hand thread",
    why: "It presses the can's own valve and can come off again.",
    applies: { seals: ["self-sealing"], refrigerants: ["R-134a", "R-12"] },
  },
  {
    id: "tap-self-sealing-1234yf",
    name: "A tap for self-sealing R-1234yf cans, left-hand thread",
    why: "R-1234yf has its own fittings, so that nothing else gets in; the thread is from memory, compare it with the can.",
    applies: { seals: ["self-sealing"], refrigerants: ["R-1234yf"] },
  },
  {
    id: "tap-piercing",
    name: "A piercing tap that fits the can",
    why: "It opens a can without a valve and cannot come off until the can is empty.",
    applies: { seals: ["pierced"] },
  },
  {
    id: "hose",
    name: "A hose with a purge valve and a low-side quick coupler",
    why: "The air and moisture of an unpurged hose end up in the system, where moisture and refrigerant make acid.",
    applies: { refrigerants: ["R-134a", "R-1234yf"] },
  },
  {
    id: "hose-r12",
    name: "A hose with a purge valve and a screw-on low-side fitting",
    why: "R-12 ports are threaded; a port with a quick coupler has been converted to another refrigerant.",
    applies: { refrigerants: ["R-12"] },
  },
];

export interface Step {
  readonly id: string;
  readonly does: string;
  readonly caution: string | null;
  readonly applies?: Applies;
}

export const STEPS: readonly Step[] = [
  {
    id: "label",
    does: "Read the label under the hood: refrigerant, nameplate charge, warnings. Buy that refrigerant and nothing else: plain, without sealer, dye only if you mean to look for the leak.",
    caution:
      "Look for orange cables or a high-voltage label at the compressor. If there are any, stop: that system is for licensed hands.",
  },
  {
    id: "place",
    does: "Park outdoors or in moving air, parking brake on, out of gear. No flame and no smoking near.",
    caution: "Refrigerant pushes the air away, and in a flame it turns into poison.",
  },
  {
    id: "no-spark",
    does: "Keep anything that sparks away, and let the engine bay cool before you connect.",
    caution: "R-1234yf burns. Mildly, but a leak onto a hot engine is enough.",
    applies: { refrigerants: ["R-1234yf"] },
  },
  {
    id: "protect",
    does: "Put on gloves and goggles before the first fitting is touched, and keep them on to the last cap.",
    caution: "Liquid refrigerant boils far below freezing: frostbite, and blindness in an eye.",
  },
  {
    id: "weigh-before",
    does: "Weigh the can and write it down.",
    caution: null,
  },
  {
    id: "tap-self-sealing",
    does: "Close the tap, then screw it onto the can until it seals.",
    caution: "Do not use a piercing tap on this can: its pin ruins the valve.",
    applies: { seals: ["self-sealing"] },
  },
  {
    id: "tap-pierced",
    does: "Turn the pin all the way back, screw the tap onto the can, then turn the pin in to pierce and leave it in: it closes the can.",
    caution: "From now on the tap cannot come off until the can is empty.",
    applies: { seals: ["pierced"] },
  },
  {
    id: "find-low-side",
    does: "With the engine off, find the low-side port: on the thicker pipe, between the firewall and the compressor, cap often marked L. Wipe it and take the cap off.",
    caution: "Low side only. High-side pressure driven back into a can bursts it.",
  },
  {
    id: "connect",
    does: "Connect the hose to the low-side port, and the gauges. Then push the hose's air out: let a short puff of refrigerant through the purge valve, a second at most.",
    caution: "Point the purge away from face and hands. A puff is enough; letting more out is venting.",
  },
  {
    id: "start",
    does: "Start the engine. Air conditioning on, coldest, fan highest, recirculating, doors open. Wait ten minutes.",
    caution: "Belt, pulleys and fan turn, and the fan starts by itself: sleeves, hair and hose well away.",
  },
  {
    id: "compressor",
    does: "See whether the compressor comes on. If it does not, the pressure may be too low for its switch, or it is not driven.",
    caution: "Never bridge the pressure switch: a compressor without refrigerant has no oil either.",
  },
  {
    id: "read-first",
    does: "With the can still closed, read both gauges. Expected today: low side {low}, high side {high}.",
    caution: "If both are already there, stop: low charge is not the trouble.",
    applies: { needs: "targets" },
  },
  {
    id: "fill-first",
    does: "Can upright, on the scale. Open it and let {first} in, by weight.",
    caution:
      "Never upside down: liquid into the low side can break the compressor. Never warm the can, not with water and not in the sun: it can burst. It cools by itself; be patient.",
    applies: { needs: "sure-amount" },
  },
  {
    id: "read-closed",
    does: "Close the can, wait three minutes, then read the gauges and the vent.",
    caution: "With the can open the low side shows the can, not the system.",
  },
  {
    id: "fill-parts",
    does: "If it still cools weakly and the low side is still under what is expected: can upright, {part} at a time, closing, waiting and reading after each. Never more than {total} in all.",
    caution: "Too much is as bad as too little: it costs cooling and strains the compressor. When unsure, stop early.",
    applies: { needs: "parts" },
  },
  {
    id: "stop-targets",
    does: "Stop at the first of these: the vent gets no colder from one part to the next; low side at {low_top}; high side at {high_top}; the amount above.",
    caution: "Pressure is a weak sign, and charts contradict each other. The weight on the scale counts more.",
    applies: { needs: "targets" },
  },
  {
    id: "stop-always",
    does: "Stop at once if the vent gets warmer, the compressor gets loud or starts to cycle fast, or the high side climbs quickly.",
    caution:
      "Close the can, switch the air conditioning off, then the engine; leave the fittings on until the pressure has settled.",
  },
  {
    id: "disconnect",
    does: "Close the can. Engine off. Take the hose off the port with one quick movement and put the caps back on, hand-tight: they are part of the seal.",
    caution: "A spurt comes out at the coupler: face away, gloves and goggles still on.",
  },
  {
    id: "weigh-after",
    does: "Weigh the can again. What left it goes into the charge log, with the date and how it cools.",
    caution: null,
  },
  {
    id: "rest-self-sealing",
    does: "A part-full can keeps its rest: tap off, upright, cool and dry, below 50 °C, not in the vehicle.",
    caution: "Never open a can to empty it: that is venting.",
    applies: { seals: ["self-sealing"] },
  },
  {
    id: "rest-pierced",
    does: "A pierced can must be used up. With a rest in it, leave the closed tap on and take it to someone who recovers refrigerant.",
    caution: "Never let the rest out: that is venting.",
    applies: { seals: ["pierced"] },
  },
];

export const STOPS = {
  "electric-compressor": {
    title: "Stop: electric compressor",
    says: "A compressor on the high-voltage battery is for licensed hands only. The voltage kills, and the oil must be the insulating kind the maker names: a few grams of another oil make the whole system conduct.",
  },
  "readings-not-low": {
    title: "Check first: low charge is not the trouble",
    says: "The readings say that it is not low. Refrigerant on top would cost cooling and strain the compressor.",
  },
  rule: {
    title: "Not allowed here",
    says: "A rule forbids this top-off where the vehicle is.",
  },
  "too-fast": {
    title: "Repair it instead: it leaks too fast",
    says: "By the record a full charge does not last as long as is worth topping off. What goes in now is in the air before long.",
  },
  empty: {
    title: "Stop: next to nothing is left",
    says: "A system without pressure has let air and moisture in. Filling on top of that ruins it: have the leak found, the system evacuated, and charged by weight.",
  },
  "full-enough": {
    title: "Nothing to add",
    says: "By the record there is next to nothing missing, less than a can can be metered to. If it cools weakly, take readings first.",
  },
} as const;

export type StopCode = keyof typeof STOPS;

export const CAUTIONS = {
  "charge-unsure": {
    title: "It may be full already",
    says: "The record cannot rule out that nothing is missing. Take readings first; if you go on, small parts only.",
  },
  "readings-first": {
    title: "Readings first",
    says: "Nearly half of all poor cooling is not caused by low charge. Read both gauges before anything goes in.",
  },
  "pressure-is-weak": {
    title: "Pressure is a weak sign",
    says: "Pressures move with the weather, the engine and the airflow; two charts of the trade differ by a fifth. What is certain is weight: the surest fill is evacuated and charged on a scale.",
  },
  "compressor-unknown": {
    title: "Belt or high voltage",
    says: "Make sure that the compressor runs on a belt. Orange cables mean high voltage: then stop.",
  },
  flammable: {
    title: "R-1234yf burns",
    says: "Mildly flammable: moving air, no flame, no sparks, no hot surfaces below the connection, and a detector or scale made for it.",
  },
  sealer: {
    title: "No sealer, no additives",
    says: "Sealer swells the seals and then ruins them, clogs machines so that shops refuse the car, and ends in the drier with every other additive. Plain refrigerant only.",
  },
  "r-12": {
    title: "R-12",
    says: "R-12 harms the ozone layer and is sold to certified technicians only. Many systems were converted: the label and the ports say what is in it now. Never mix refrigerants.",
  },
  "pierced-rest": {
    title: "A pierced can must be used up",
    says: "The last can would keep a rest that cannot be stored. Self-sealing cans avoid that.",
  },
} as const;

export type CautionCode = keyof typeof CAUTIONS;

/** Numbers of the plan that are working assumptions. */
export const topOffNumbers = {
  /** Less than this share of the nameplate charge missing is not worth metering from a can. */
  full_enough_share: 0.05,
  /** A small part between two looks at the gauges, as a share of the nameplate charge, within these grams. */
  part_share: 0.05,
  part_least_g: 20,
  part_most_g: 60,
  /** One more can is not opened for less than this share of it: the plan ends with the can before. */
  last_can_least_share: 0.1,
} as const;
