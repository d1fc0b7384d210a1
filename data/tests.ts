import type { LocationId, TestId } from "../src/core/question/contract.ts";

/**
 * How to look for the leak, by test and by place. Common practice, no source, unless one is named.
 * What each test misses is in the model's location table; here stands what to do and what to see.
 */

export interface TestStep {
  readonly does: string;
  readonly caution: string | null;
}

export interface LeakTest {
  readonly name: string;
  readonly what: string;
  readonly needs: readonly string[];
  readonly steps: readonly TestStep[];
  readonly positive: string;
  readonly clean: string;
  readonly limits: string;
  /** What the numbers in it come from. */
  readonly source: string;
}

const COMMON_PRACTICE = "Common practice, no source.";
const J1628 = "SAE J1628 (2020), as its summary and three service manuals give it";

const HANDS =
  "Engine off, key out, and cold. A cooling fan can still start by itself, and the condenser and pipes get hot.";

export const LEAK_TESTS: Readonly<Record<TestId, LeakTest>> = {
  visual: {
    name: "Visual inspection",
    what: "Free, with a lamp and a cloth. Refrigerant carries oil; where it leaks out slowly, oil stays and dust sticks to it.",
    needs: ["a bright lamp", "a mirror", "a clean cloth", "gloves and goggles"],
    steps: [
      { does: "Follow the pipes from the compressor to the condenser, the firewall and back.", caution: HANDS },
      { does: "Wipe every joint with a clean cloth and look at the cloth for oil.", caution: null },
      {
        does: "Look at both service ports with the caps off, and check that each cap has its seal.",
        caution: "Do not push on the valve core: it spurts. Goggles on.",
      },
      { does: "Look again after a week of driving where you wiped.", caution: null },
    ],
    positive: "A damp, oily, dusty patch at a joint, hose end, the compressor's nose, or a corner of the condenser.",
    clean:
      "Everything is dry, and still dry a week after wiping. That proves little: most slow leaks leave no visible oil.",
    limits: "Needs oil to have come out; the evaporator is hidden. Oil from the engine looks the same.",
    source: `${J1628}: what the eye finds are large leaks. The rest is common practice, no source.`,
  },
  dye: {
    name: "Dye test",
    what: "Dye in the refrigerant's oil glows under an ultraviolet lamp where it came out.",
    needs: [
      "dye for this refrigerant and oil (SAE J2297)",
      "an ultraviolet lamp",
      "yellow glasses that stop ultraviolet",
      "gloves",
    ],
    steps: [
      {
        does: "Dye goes in with the oil or refrigerant, a few millilitres, once. The right amount is on the dye.",
        caution: "Gloves and goggles; everything of the top-off steps applies. Too much dye thins the oil.",
      },
      {
        does: "Drive with the air conditioning on: minutes for a gross leak, days to weeks for a slow one.",
        caution: null,
      },
      {
        does: "In the dark, engine off, shine the lamp on every location from several sides.",
        caution: `Ultraviolet harms eyes: wear the glasses, and do not point the lamp at anyone. ${HANDS}`,
      },
      { does: "Light the drain of the evaporator's water, and what dripped from it.", caution: null },
      { does: "Wipe what glowed, so that the next look is not fooled.", caution: null },
    ],
    positive: "Bright yellow-green that comes back after wiping. Old dye from an earlier repair glows too.",
    clean: "Nothing glows anywhere after weeks of driving, ports and drain looked at.",
    limits: "Needs time, and oil that carries it out. The evaporator shows only at its drain.",
    source: `SAE J2297 (dye) and J2298 (how it is used). ${COMMON_PRACTICE}`,
  },
  electronic: {
    name: "Electronic leak test",
    what: "A detector that senses refrigerant, used as SAE J1628 describes. Good ones find 4 g (0.14 oz) a year (SAE J2791 for R-134a, J2913 for R-1234yf).",
    needs: [
      "a detector made for this refrigerant",
      "still air",
      "enough pressure: at least 50 psi (340 kPa) with the engine off, and 15 °C (59 °F) or more",
    ],
    steps: [
      {
        does: "Engine off, out of the wind. Look the whole system over first. Air out the engine bay, so no refrigerant is left in the air, and wipe off dirt, water and solvents.",
        caution: `${HANDS} With R-1234yf use a detector that is safe in flammable gas.`,
      },
      {
        does: "Go around the whole refrigerant path without a gap. Move the probe 25 to 50 mm (1 to 2 in) a second, within 5 mm (1/4 in) of the surface, all the way around and below each joint. Test the service ports with their caps on.",
        caution: "Do not touch the surface with the tip, and keep it out of water and oil: they ruin the detector.",
      },
      {
        does: "Go on after the first leak: there may be more. Where it sounds, blow fresh air over the location and test again, twice.",
        caution: "Wear goggles against dust. Blow over the outside only, never compressed air into the system.",
      },
      {
        does: "For the evaporator: run the fan on high for at least 15 seconds, switch it off, and wait about 13 minutes. Then probe in the drain, if no water is in it, or in the vent nearest to the evaporator.",
        caution: null,
      },
      {
        does: "After a repair, and after any other work that opened the system, search all of it again.",
        caution: null,
      },
    ],
    positive: "It sounds at the same place three times, and not a hand's width away.",
    clean: "It stays silent everywhere, and sounded at a known source before and after.",
    limits:
      "Wind hides a leak; foam, cleaners and exhaust fool it. One ounce (28 g) a year is under a microgram a second.",
    source: `${J1628}.`,
  },
};

/**
 * Tests that are no log entry of their own: bubbles count as seen by eye, and the others say that it leaks, not where.
 */
export const OTHER_TESTS = {
  bubbles: {
    name: "Soapy water",
    what: "Shows where a leak that you already know to be large is: over 1,276 g (45 oz) a year. Bubbles are a leak; log them as a visual inspection.",
    needs: ["a spray bottle of soapy water or leak fluid", "a lamp", "goggles"],
    steps: [
      { does: "Dry the joint, spray it all around, and watch for half a minute.", caution: HANDS },
      { does: "Rinse with clean water and dry. Soap and moisture fool a detector afterwards.", caution: null },
    ],
    positive: "Foam that grows, or bubbles that come again and again at the same location.",
    clean: "Nothing is proved: at most vehicles a slow leak is far too small, and no bubbles prove nothing.",
    limits: "Everything under 1,276 g (45 oz) a year, the evaporator, and the inside of crimps.",
    source: `${J1628}: its grades of sensitivity.`,
  },
  vacuum: {
    name: "Vacuum decay",
    what: "After the refrigerant was recovered, the system is pumped down and watched. It finds large leaks only, and says nothing about where.",
    needs: [
      "a recovery machine for this refrigerant",
      "a vacuum pump",
      "manifold gauges, or better a vacuum gauge in microns",
    ],
    steps: [
      {
        does: "Recover the refrigerant. Then pump down to 28 to 29 inHg (95 to 98 kPa) of vacuum at sea level, and 1 inHg (3.4 kPa) less for each 1,000 ft (305 m) above it.",
        caution:
          "Never vent, and never pull refrigerant through the vacuum pump. Wear goggles and gloves when you connect.",
      },
      {
        does: "If that is not reached in 15 minutes, it leaks a lot: find the leak with pressure. If it is, pump for at least 30 minutes, or 90 after the system was open.",
        caution: null,
      },
      {
        does: "Shut both gauge valves, stop the pump, and read the gauge for 5 minutes. A rise of more than 1 inHg (3.4 kPa) in 5 minutes is a leak; some manuals allow 2.",
        caution: null,
      },
    ],
    positive:
      "The needle goes on rising. If it rises and then stops, it is moisture or refrigerant boiling out of oil.",
    clean: "It stands still. That is no proof: search again with a detector once there is pressure.",
    limits:
      "In a car's system that rise is kilograms of air a year, so a slow leak doesn't move the needle. Vacuum also pulls some seals shut that leak under pressure.",
    source:
      "US Army TM 5-3805-280-24-1 (29 inHg, 15 minutes, 1 inHg in 5 minutes, 1 inHg per 1,000 ft), TM 5-3805-292-23 (28 to 29 inHg, 90 minutes) and TM 5-3805-296-23-4 (2 inHg in 5 minutes).",
  },
  nitrogen: {
    name: "Nitrogen pressure test",
    what: "For an empty system: dry nitrogen brings pressure, so that leaks hiss, bubble or show as a falling gauge. What escapes does no harm to the climate.",
    needs: [
      "a cylinder of dry nitrogen with a pressure regulator and a relief valve",
      "manifold gauges and hoses rated for the pressure",
      "soapy water",
      "goggles and gloves",
    ],
    steps: [
      {
        does: "Recover what is left, and pump the system down. Fit the regulator, set to nothing, before the cylinder is opened.",
        caution:
          "A full cylinder holds over 2,000 psi (140 bar): it is never connected without a regulator, and is chained upright.",
      },
      {
        does: "Let nitrogen in slowly, in two or three steps, to at most 150 psi (10 bar), or the lower limit that the vehicle's manual or label gives for the low side. Shut the cylinder.",
        caution:
          "Nitrogen only. Oxygen and oil explode; compressed air is wet, and mixed with R-134a it can burn under pressure. Keep your face away from joints and hoses.",
      },
      {
        does: "Listen, and spray joints with soapy water. Then read gauge and temperature at once and after an hour, or better the next day: 10 °F (5.6 °C) colder alone takes 3 psi (0.2 bar) off 150 psi.",
        caution: "Nitrogen takes the place of air: doors open, never in a pit or a closed vehicle.",
      },
      {
        does: "Let it out slowly through the hose, outdoors or with the doors open. Undo nothing before both gauges read zero. Then evacuate.",
        caution: null,
      },
    ],
    positive: "It hisses, foams, or the gauge falls by more than the temperature explains.",
    clean: "The gauge stands, temperature counted in. A few psi in an hour would still be kilograms a year.",
    limits: "Says that it leaks; bubbles show where, for large leaks. A slow leak needs a tracer gas or a detector.",
    source:
      "US Army TM 9-4110-256-14 and TM 9-4110-257-14 (regulator, over 2,000 psi, no oxygen, suffocation), TB 9-2320-360-13&P-1 (no compressed air); a truck maker's manual of 2004 (10 bar, 150 psi). Temperature: ideal gas.",
  },
  tracer: {
    name: "Tracer gas",
    what: "For an empty system: a ready mix of 5% hydrogen in nitrogen, and a detector for it. It finds leaks as small as a refrigerant detector does, in the cold too, and releases nothing that warms the air.",
    needs: [
      "a cylinder of 5% hydrogen in nitrogen with its regulator",
      "a tracer gas detector (SAE J2970)",
      "goggles and gloves",
    ],
    steps: [
      {
        does: "Recover what is left. Let the mix in slowly to about 5 bar (73 psi), and never above what the vehicle's manual allows. Shut the cylinder.",
        caution:
          "Buy it mixed: with more hydrogen it burns. A cylinder is never opened without its regulator. Never add oxygen or compressed air.",
      },
      {
        does: "Search above joints and parts, because hydrogen rises: slowly, in an unbroken line, going on after the first leak. For the evaporator, hold the probe at a vent and at the drain.",
        caution: "Air the place: the mix takes the place of air, so never in a pit or a closed vehicle.",
      },
      { does: "Let it out slowly, outdoors. Repair, evacuate, charge by weight, and search again.", caution: null },
    ],
    positive: "The detector sounds at the same location again after the air has cleared.",
    clean: "It stays silent everywhere, and sounded at its test leak before and after.",
    limits: "At that pressure a leak that opens only with the engine running may stay shut.",
    source:
      "SAE J2970 (2015), scope: helium or nitrogen with hydrogen, as good as a refrigerant detector. A detector's manual: 95/5 and about 5 bar.",
  },
} as const satisfies Record<string, LeakTest>;
export type OtherTestId = keyof typeof OTHER_TESTS;

export interface PlaceToLook {
  readonly where: string;
  readonly positive: Readonly<Record<TestId, string>>;
  readonly caution: string | null;
}

export const PLACES_TO_LOOK: Readonly<Record<LocationId, PlaceToLook>> = {
  "service-port": {
    where:
      "Both capped ports on the pipes: the thin one of the high side, the thick one of the low side. The valve core sits inside.",
    positive: {
      visual: "Oil in the cap or around the core.",
      dye: "Glow inside the port or cap (some is normal right after a fill).",
      electronic: "Sounds around the cap, with the cap on.",
    },
    caution: "Never undo the core with pressure in the system unless you have the tool made for it.",
  },
  joint: {
    where: "Where pipes meet: at the compressor, condenser, drier, firewall. An O-ring sits in each.",
    positive: {
      visual: "An oily, dusty ring around the joint.",
      dye: "A glowing ring or run below the joint.",
      electronic: "Sounds below the joint, all around it.",
    },
    caution: "Do not tighten a joint under pressure: it can let go.",
  },
  hose: {
    where: "Along both rubber hoses, most of all at the crimped ends and where they rub.",
    positive: {
      visual: "Oily crimp, a wet or swollen stretch, a rubbed spot.",
      dye: "Glow at the crimp, or a glowing stretch of rubber.",
      electronic: "Sounds at the crimp or along the hose.",
    },
    caution: null,
  },
  condenser: {
    where:
      "The finned panel at the very front: its face, both ends, and the lower corners where stones and salt reach.",
    positive: {
      visual: "A dark oily patch with dust, a stone's mark, white corrosion.",
      dye: "Glow between the fins; look from behind too.",
      electronic: "Sounds along the lower edge.",
    },
    caution: "The fan in front of or behind it starts by itself: pull its fuse or keep hands out. Fins cut.",
  },
  evaporator: {
    where: "Inside the dashboard box. Only its water drain below the car and its vents can be reached.",
    positive: {
      visual: "Oil in the drain water; an oily film on the inside of the glass.",
      dye: "Glow at the drain's end.",
      electronic: "Sounds in a vent after the fan rested, or at the drain.",
    },
    caution: "Under a car only on stands or ramps.",
  },
  compressor: {
    where: "The nose behind the pulley (shaft seal), the seam of its body, and the pipe flange on its back.",
    positive: {
      visual: "Oil thrown in a ring around the pulley, a wet seam.",
      dye: "Glow behind the clutch or along the seam.",
      electronic: "Sounds at the nose, engine off.",
    },
    caution: "Keep clear of belt and pulley, engine off and key out. A shaft seal weeps a little by design.",
  },
};

/** What "looked everywhere, saw nothing" asks for before it is logged. */
export const LOOKED_EVERYWHERE =
  "You checked all six locations and found nothing. Record it: it makes the hidden locations more likely.";
