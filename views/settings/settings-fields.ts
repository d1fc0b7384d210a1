/** The settings as they were typed. */
export interface SettingsFields {
  name: string;
  mass_unit: string;
  temperature_unit: string;
  pressure_unit: string;
  currency: string;
  /** Who tops off; empty: as usual. */
  service: string;
  keep_years: string;
  /** Whose warming potentials; empty: as usual. */
  gwp: string;
  place: string;
  climate: string;
  /** Twelve temperatures in the chosen unit; empty: the climate's. */
  means: string;
  time_zone: string;
}

/** The climate that stands for own temperatures. */
export const OWN_CLIMATE = "own";
