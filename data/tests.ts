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
}

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
        does: "Look at both service ports with the caps off, and check that each cap has its seal. Soapy water shows only large leaks, over 1,276 g (45 oz) a year (SAE J1628): no bubbles prove nothing.",
        caution: "Do not push on the valve core: it spurts. Goggles on.",
      },
      { does: "Look again after a week of driving where you wiped.", caution: null },
    ],
    positive: "A damp, oily, dusty patch at a joint, hose end, the compressor's nose, or a corner of the condenser.",
    clean: "Everything dry, and dry again a week after wiping. It says little: most slow leaks leave no visible oil.",
    limits: "Needs oil to have come out; the evaporator is hidden. Oil from the engine looks the same.",
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
        does: "In the dark, engine off, light every place with the lamp, from several sides.",
        caution: `Ultraviolet harms eyes: wear the glasses, and do not point the lamp at anyone. ${HANDS}`,
      },
      { does: "Light the drain of the evaporator's water, and what dripped from it.", caution: null },
      { does: "Wipe what glowed, so that the next look is not fooled.", caution: null },
    ],
    positive: "Bright yellow-green that comes back after wiping. Old dye from an earlier repair glows too.",
    clean: "Nothing glows anywhere after weeks of driving, ports and drain looked at.",
    limits: "Needs time, and oil that carries it out. The evaporator shows only at its drain.",
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
  },
};

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
  "All six places looked at with this test, and nothing seen. That is a finding too: it makes the hidden places likelier.";
