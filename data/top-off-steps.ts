import type { CanSeal, RefrigerantId } from "../src/core/question/contract.ts";

/**
 * The words of the top-off plan: what to have, what to do in which order with the caution at the step, and what stops
 * the job. Common practice, no source, except where one is named or a rule of `data/rules.ts` is meant. Names in braces
 * are filled in from the plan: `{first}` and `{total}` grams into the system, `{part}` a small part, `{low}` and
 * `{high}` the expected pressures, `{low_stop}` and `{high_stop}` where charging ends.
 */

/** When a tool, a step or a caution applies; what is left out always does. */
export interface Applies {
  readonly refrigerants?: readonly RefrigerantId[];
  readonly seals?: readonly CanSeal[];
  /** Steps of the first, sure amount; of the small parts after it. */
  readonly needs?: "sure-amount" | "parts";
}

export interface Tool {
  readonly id: string;
  readonly name: string;
  readonly why: string;
  readonly applies?: Applies;
}

export const TOOLS: readonly Tool[] = [
  { id: "gloves", name: "Insulated gloves", why: "Escaping refrigerant freezes skin." },
  { id: "goggles", name: "Goggles that close at the sides", why: "Refrigerant spray can blind you." },
  {
    id: "scale",
    name: "A kitchen scale that shows single grams or tenths of an ounce",
    why: "Weighing the can is the only reliable way to know how much went in. Counting cans is not.",
  },
  {
    id: "gauges",
    name: "Manifold gauges for this refrigerant, with three hoses and two hand valves",
    why: "A low-side gauge alone says nothing about the high side. A basic set costs about 50 US dollars, a good one 150 to 200.",
  },
  {
    id: "thermometer",
    name: "A thermometer for the vent",
    why: "Vent air tells you when to stop better than pressure does.",
  },
  {
    id: "tap-self-sealing-134a",
    name: "A tap for self-sealing cans, without a piercing pin, right-hand thread",
    why: "It presses the can's own valve and can come off again.",
    applies: { seals: ["self-sealing"], refrigerants: ["R-134a"] },
  },
  {
    id: "tap-self-sealing-1234yf",
    name: "A tap for self-sealing R-1234yf cans, left-hand thread",
    why: "R-1234yf has its own fittings, so that nothing else gets in. The thread is from memory: compare it with the can.",
    applies: { seals: ["self-sealing"], refrigerants: ["R-1234yf"] },
  },
  {
    id: "tap-piercing",
    name: "A piercing tap that fits the can",
    why: "It opens a can without a valve and cannot come off until the can is empty.",
    applies: { seals: ["pierced"] },
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
    does: "Read the label under the hood: refrigerant, nameplate charge, warnings. Buy that refrigerant and nothing else: plain, without sealer, and with dye only if you mean to look for the leak.",
    caution:
      "Look for orange cables or a high-voltage label at the compressor. If there are any, stop. Only a technician trained for high voltage may work on that system.",
  },
  {
    id: "contents",
    does: "Look for a second label, an adapter on a port, or a receipt: signs that the system was converted, or had sealer or a propane-type refrigerant put in.",
    caution:
      "If you find any, stop. A shop can tell with a refrigerant identifier what is in the system. Flammable blends can catch fire, and a mixture cannot be recycled.",
  },
  {
    id: "place",
    does: "Park on level ground outdoors, parking brake on, out of gear. Never work over a pit or in a cellar.",
    caution:
      "Refrigerant is heavier than air, gathers in low places and displaces the air you breathe. A flame or a cigarette turns it into toxic gas. Keep both away.",
  },
  {
    id: "no-spark",
    does: "Let the engine bay cool before you connect. Keep a fire extinguisher within reach and everything that sparks away.",
    caution:
      "R-1234yf is mildly flammable, and a leak onto a hot engine can ignite it. Burning R-1234yf makes hydrogen fluoride, which burns eyes and lungs. If it catches fire, get everyone away upwind and call the fire service.",
    applies: { refrigerants: ["R-1234yf"] },
  },
  {
    id: "protect",
    does: "Put on gloves and goggles before you touch the first fitting, and keep them on until the last cap is back. Tie back hair and sleeves.",
    caution:
      "Escaping liquid refrigerant is far below freezing. It causes frostbite and can blind you. Never work alone on your first one.",
  },
  {
    id: "first-aid",
    does: "Have clean water within reach and know what to do. In an eye: rinse with cool water for 15 minutes, do not rub, and see a doctor at once. On skin: rinse with lukewarm water, do not rub, and see a doctor.",
    caution: "If someone breathed a lot of it or feels dizzy, bring them into fresh air and call an ambulance.",
  },
  {
    id: "weigh-before",
    does: "Weigh the can and write the weight down.",
    caution: null,
  },
  {
    id: "valves-shut",
    does: "Turn both hand valves of the manifold clockwise until they are shut.",
    caution:
      "The high-side hand valve stays shut from now to the end. Opened with the engine running, it lets 300 psi (20 bar) and more into the can, and the can bursts.",
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
    id: "find-ports",
    does: "With the engine off, find both ports. The low side is on the thicker pipe between the firewall and the compressor, its cap often marked L; the high side is on the thin pipe. Wipe both and take the caps off.",
    caution: "Refrigerant goes in at the low side only. The high-side hose is for reading the gauge, nothing else.",
  },
  {
    id: "connect",
    does: "Still with the engine off, put the low-side hose on the low-side port, the high-side hose on the high-side port, and the center hose on the can's tap.",
    caution:
      "Connect nothing else. Never put compressed air into the system: it brings moisture, and R-134a mixed with air can burn under pressure.",
  },
  {
    id: "purge",
    does: "Push the air out of the hoses. For the center hose, open the can a little and loosen the hose at the manifold for a second. For the other two, use the purge valve or do the same with the system's own pressure.",
    caution:
      "Point the puff away from face and hands. A second is enough for each hose; letting more out is venting. Air left in a hose ends up in the system.",
  },
  {
    id: "start",
    does: "Close the can. Start the engine. Air conditioning on, coldest, fan highest, recirculating, doors open. Wait two to three minutes.",
    caution:
      "Belt, pulleys and fan turn, and the cooling fan starts by itself. Keep sleeves, hair, hoses and gauges well away, and off hot parts.",
  },
  {
    id: "compressor",
    does: "See whether the compressor comes on. If it does not, the pressure may be too low for its safety switch, or the belt or clutch has a fault.",
    caution: "Never bridge the pressure switch: a compressor without refrigerant has no oil either.",
  },
  {
    id: "read-first",
    does: "With the can still closed, read both gauges. Expected today: low side {low}, high side {high}.",
    caution:
      "Stop if the low side is at {low_stop} or the high side at {high_stop} already: adding refrigerant would not help.",
  },
  {
    id: "fill-first",
    does: "Can upright on the scale. Open the can and the low-side hand valve a little, and let {first} in by weight. Then shut both.",
    caution:
      "Keep the can upright: liquid in the low side can break the compressor. Never warm the can, with water, sun or anything else: it can burst. The can gets cold as it empties. Be patient.",
    applies: { needs: "sure-amount" },
  },
  {
    id: "read-closed",
    does: "With the can and both hand valves shut, wait three minutes. Then read both gauges and the vent.",
    caution: "With the low-side valve open the gauge shows the can, not the system.",
  },
  {
    id: "fill-parts",
    does: "If it still cools poorly and the low side is still below {low_stop}, add {part} at a time, can upright. After each, shut the can and the low-side valve, wait and read. Never add more than {total} in total.",
    caution: "Too much is as bad as too little: it cools less and strains the compressor. If in doubt, stop.",
    applies: { needs: "parts" },
  },
  {
    id: "stop-targets",
    does: "Stop at the first of these: the vent gets no colder from one part to the next; the low side reaches {low_stop}; the high side reaches {high_stop}; the amount above is in.",
    caution: "Pressure is a poor guide, and printed charts disagree. Go by the weight on the scale.",
  },
  {
    id: "stop-always",
    does: "Stop at once if the vent gets warmer, the compressor gets loud or starts to cycle fast, or the high side climbs quickly.",
    caution:
      "Shut the can and the low-side valve, switch the air conditioning off, then the engine. Leave the hoses on until the pressure has settled.",
  },
  {
    id: "disconnect",
    does: "Shut the can and the low-side valve, engine off. Wait until both gauges show the same pressure. Then take the low-side hose off with one quick movement, then the high-side hose.",
    caution:
      "Never take the high-side hose off while its pressure is still high. A little sprays out at each coupler: face away, gloves and goggles still on.",
  },
  {
    id: "caps",
    does: "Put both caps back on, hand-tight. They are part of the seal: replace a cap whose rubber ring is missing.",
    caution: null,
  },
  {
    id: "weigh-after",
    does: "Weigh the can again. The weight before less the weight now goes into the charge log, with the date and how it cools.",
    caution: null,
  },
  {
    id: "rest-self-sealing",
    does: "You can store a partly used can. Take the tap off and keep the can upright, cool and dry, below 50 °C (122 °F), not in the vehicle.",
    caution: "Never open a can to empty it: that is venting.",
    applies: { seals: ["self-sealing"] },
  },
  {
    id: "rest-pierced",
    does: "A pierced can must be used up. If some is left, leave the closed tap on and take the can to a shop that recovers refrigerant.",
    caution: "Never let the rest out: that is venting.",
    applies: { seals: ["pierced"] },
  },
];

export const STOPS = {
  "electric-compressor": {
    title: "Stop: electric compressor",
    says: "This compressor runs on the high-voltage battery. Only a technician trained for high voltage may work on it. The voltage can kill, and the system needs the insulating oil its maker specifies: a few grams of another oil make the whole system conductive.",
  },
  "had-sealer": {
    title: "Stop: sealer is in it",
    says: "Sealer clogs the valve, the drier and the machines of shops. Refrigerant on top does not help. Tell a shop before it connects anything: it needs a sealant check first.",
  },
  "other-refrigerant": {
    title: "Stop: not what the label says",
    says: "A system that was converted, or holds a propane-type refrigerant or a mixture, must not be topped off at home. It may burn, and its pressures mean nothing. A shop finds out what is in it with a refrigerant identifier, recovers it, and charges by weight.",
  },
  rule: {
    title: "Not allowed here",
    says: "A rule forbids this top-off where the vehicle is. Ask a shop that may do it.",
  },
  "r-12": {
    title: "Stop: R-12 is not for home",
    says: "R-12 destroys the ozone layer. Where we know the law, owners may not buy or add it. A certified technician can recover it and tell you about a conversion.",
  },
  "too-large": {
    title: "Stop: too large to top off from cans",
    says: "A system of this size is charged by weight from a cylinder, by a shop. Cans would take hours, and the error adds up.",
  },
  "too-cold": {
    title: "Too cold to top off",
    says: "In cold air the can has little pressure, the compressor may be locked out, and neither gauges nor vent tell you when to stop. Wait for a day of 18 °C (64 °F) or more.",
  },
  "too-hot": {
    title: "Too hot to top off",
    says: "Above 45 °C (113 °F) pressures are close to where safety switches open, with the right charge already. Wait for a cooler day.",
  },
  "readings-not-low": {
    title: "Check first: low charge is not the cause",
    says: "The readings say that it is not low. More refrigerant would cool less and strain the compressor.",
  },
  "too-fast": {
    title: "Repair it instead: it leaks too fast",
    says: "The charge log shows that a full charge won't last the minimum you set. What you add now will soon leak out.",
  },
  empty: {
    title: "Stop: almost nothing is left",
    says: "A system without pressure has let air and moisture in. Filling on top of that ruins it. Have the leak found, the system evacuated, and charged by weight.",
  },
  "full-enough": {
    title: "Nothing to add",
    says: "The charge log shows almost nothing missing, less than you can measure out of a can. If it cools poorly, take readings first.",
  },
} as const;

export type StopCode = keyof typeof STOPS;

/** What must be known before any step is shown. */
export const OPEN_QUESTIONS = {
  where: "where the vehicle is",
  ambient: "the air temperature on the day",
  compressor: "what drives the compressor",
  contents: "what is in the system",
} as const;

export type OpenQuestion = keyof typeof OPEN_QUESTIONS;

export const CAUTIONS = {
  "ask-authority": {
    title: "Ask first whether you may",
    says: "We have not read the law of this place. In some places topping off a leaking vehicle is an offense, or only certified technicians may buy refrigerant. Ask the environmental authority or a shop before you buy.",
  },
  "second-hand-rule": {
    title: "It may be forbidden here: ask first",
    says: "As others tell it, you may not top it off where the vehicle is. We have not read the law's own text, so this plan does not apply it. Read the rules of the place, and ask the environmental authority before you buy.",
  },
  "yf-stops": {
    title: "No chart for R-1234yf",
    says: "We found no published stop pressures for R-1234yf. Ours are those of R-134a at the same temperatures, and never higher. If the vehicle's manual gives its own, use those.",
  },
  "charge-unsure": {
    title: "It may be full already",
    says: "The charge log cannot rule that out. Take readings first. If you go on, add small amounts only.",
  },
  "readings-first": {
    title: "Readings first",
    says: "Nearly half of all poor cooling is not caused by low charge. Read both gauges before you add anything.",
  },
  sealer: {
    title: "No sealer, no additives",
    says: "Sealer swells the seals and then ruins them, and clogs machines so that shops refuse the car. Use plain refrigerant only.",
  },
  "pierced-rest": {
    title: "A pierced can must be used up",
    says: "What is left in the last can cannot be stored. Self-sealing cans avoid that.",
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

/** Beyond these nobody adds refrigerant from cans. */
export const topOffLimits = {
  /**
   * Ambient, °C. At 18 °C a can of R-134a still has some 440 kPa above the air, over a low side that runs; below,
   * compressors begin to be locked out. Above 45 °C a sound high side nears its switch. Both working assumptions.
   */
  ambient_c: { from: 18, to: 45 },
  /** Working assumption: cars and vans hold less, buses and refrigerated bodies more. */
  nameplate_most_g: 2000,
  /**
   * Highest gauge pressures at which charging R-134a ends, psi. The trade's ambient chart ends at 55 low side and 345
   * at 43 °C high side; a maker's fault table of 2004 calls 50–64 with 285–355 overcharge; high-pressure switches open
   * from 399 psi. Other refrigerants: where they boil and condense at the same temperatures, and not higher.
   * No published stop for R-1234yf was found, so that is physics without a source.
   */
  stop_psi: { low: 55, high: 340 },
} as const;
