export interface Climate {
  id: string;
  name: string;
  description: string;
  /** Mean temperature of each month, °C, January first. */
  monthly_mean_c: readonly [
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
  ];
  source: string;
}

const TYPICAL_YEAR =
  "typical meteorological year TMY3 of the US National Renewable Energy Laboratory (2008), WMO station";

/**
 * Kinds of climate to choose from when someone has no monthly temperatures of their own. One station stands for each
 * kind; what matters for a leak is how hot the hot months are against the rest, so a neighbouring place does as well.
 */
export const CLIMATES = [
  {
    id: "hot-desert",
    name: "Hot desert",
    description: "Very hot, dry summers and mild winters.",
    monthly_mean_c: [13.0, 15.7, 17.3, 23.7, 27.3, 34.0, 35.6, 33.8, 30.4, 24.8, 18.0, 11.7],
    source: `${TYPICAL_YEAR} 722780`,
  },
  {
    id: "humid-subtropical",
    name: "Humid subtropical",
    description: "Long, hot, humid summers and short, mild winters.",
    monthly_mean_c: [14.6, 17.4, 18.8, 21.6, 24.6, 26.5, 26.9, 26.2, 26.1, 23.1, 20.1, 16.4],
    source: `${TYPICAL_YEAR} 722050`,
  },
  {
    id: "warm-continental",
    name: "Hot-summer plains",
    description: "Hot summers and cold, short winters, far from the sea.",
    monthly_mean_c: [0.9, 6.8, 10.4, 16.2, 20.6, 25.0, 27.7, 27.9, 23.0, 17.0, 9.8, 3.6],
    source: `${TYPICAL_YEAR} 723530`,
  },
  {
    id: "temperate-continental",
    name: "Temperate continental",
    description: "Four full seasons: warm summers, winters around or below freezing.",
    monthly_mean_c: [-4.6, -2.2, 1.6, 8.4, 15.3, 21.1, 23.5, 21.8, 18.1, 11.7, 4.2, -2.6],
    source:
      "typical meteorological year TMY2 of the US National Renewable Energy Laboratory (1995), WMO station 725300",
  },
  {
    id: "cold-continental",
    name: "Cold continental",
    description: "Warm but short summers, long winters far below freezing.",
    monthly_mean_c: [-17.8, -13.6, -6.1, 4.0, 12.0, 17.0, 19.5, 18.5, 12.3, 5.3, -5.3, -14.4],
    source: "Canadian Climate Normals 1971–2000, Environment Canada, Winnipeg airport",
  },
  {
    id: "subarctic",
    name: "Subarctic",
    description: "A few mild months, the rest of the year deep frost.",
    monthly_mean_c: [-22.2, -18.6, -11.7, 0.6, 9.7, 15.8, 16.9, 13.3, 7.2, -4.2, -16.4, -20.0],
    source:
      "mean of the average monthly high and low of an airport in the interior of Alaska, from a secondary table in whole °F that names no period",
  },
  {
    id: "mild-marine",
    name: "Mild marine coast",
    description: "Cool summers, mild and wet winters, seldom hot or frosty.",
    monthly_mean_c: [4.3, 4.0, 5.7, 7.9, 11.4, 14.5, 16.6, 15.8, 13.6, 9.7, 5.9, 4.2],
    source:
      "mean of the monthly air temperatures at Nottingham Castle, England, 1920–1939 (Anderson, Time Series Analysis and Forecasting, 1976)",
  },
  {
    id: "cool-summer-coast",
    name: "Cool-summer coast",
    description: "Fog and sea wind: much the same mild temperature all year.",
    monthly_mean_c: [9.6, 11.3, 12.7, 13.7, 15.0, 15.3, 15.9, 16.6, 16.7, 15.1, 12.8, 10.7],
    source: `${TYPICAL_YEAR} 724940`,
  },
  {
    id: "mediterranean",
    name: "Mediterranean, inland",
    description: "Hot, dry summers and cool, wet winters.",
    monthly_mean_c: [8.2, 10.4, 12.9, 16.9, 21.7, 25.7, 28.6, 27.1, 24.1, 19.8, 11.3, 7.6],
    source: `${TYPICAL_YEAR} 723890`,
  },
  {
    id: "high-plains",
    name: "Highland, dry",
    description: "High and sunny: warm summer days, cool nights, cold winters.",
    monthly_mean_c: [-0.2, 0.6, 4.9, 9.8, 13.9, 19.0, 23.0, 21.7, 16.8, 10.5, 4.6, -1.6],
    source: `${TYPICAL_YEAR} 724699, 1689 m above the sea`,
  },
  {
    id: "tropical-highland",
    name: "Highland in the tropics",
    description: "Spring-like all year, because it is high.",
    monthly_mean_c: [18.0, 18.6, 19.4, 19.1, 17.9, 16.3, 15.4, 15.8, 17.1, 18.6, 18.1, 18.0],
    source:
      "mean of the average daily minimum and maximum of each month at Nairobi, about 1800 m above the sea, from a secondary table that names no period",
  },
  {
    id: "tropical-wet",
    name: "Tropical wet",
    description: "Hot and humid in every month.",
    monthly_mean_c: [26.8, 27.3, 27.8, 28.2, 28.6, 28.5, 28.2, 28.1, 28.0, 27.9, 27.2, 26.8],
    source: "from memory: station normals 1991–2020 of an equatorial port",
  },
  {
    id: "tropical-winter-dry",
    name: "Tropical coast with a mild winter",
    description: "Hot, humid summers and warm, drier winters.",
    monthly_mean_c: [19.4, 20.9, 21.6, 24.1, 26.4, 27.7, 28.1, 28.0, 27.5, 26.3, 23.6, 20.3],
    source: `${TYPICAL_YEAR} 722020`,
  },
  {
    id: "southern-mediterranean",
    name: "Mediterranean, southern hemisphere",
    description: "Hot, dry summers from December to March, mild and wet winters.",
    monthly_mean_c: [24.3, 24.7, 23.0, 19.6, 16.5, 13.9, 13.1, 13.5, 14.8, 17.1, 20.3, 22.5],
    source:
      "mean of the average daily minimum and maximum of each month at Perth, 1993–2010, figures of the Australian Bureau of Meteorology as quoted in a secondary table",
  },
  {
    id: "southern-humid-subtropical",
    name: "Humid subtropical, southern hemisphere",
    description: "Warm, humid summers from December to February, mild winters.",
    monthly_mean_c: [22.3, 22.3, 21.2, 18.6, 15.6, 13.2, 12.2, 13.4, 15.6, 17.9, 19.6, 21.4],
    source: "from memory: long-term station averages of a city on the east coast of Australia",
  },
  {
    id: "southern-mild-marine",
    name: "Mild marine coast, southern hemisphere",
    description: "Mild summers from December to March, cool and wet winters without hard frost.",
    monthly_mean_c: [19.8, 20.3, 18.8, 16.6, 14.2, 12.0, 11.1, 11.7, 13.1, 14.6, 16.4, 18.4],
    source: "from memory: station normals of a city in the north of New Zealand",
  },
] as const satisfies readonly Climate[];
