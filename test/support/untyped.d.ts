/** General reference libraries that come without types: what the tests call of them. */

declare module "psychrolib" {
  /**
   * ASHRAE Handbook Fundamentals 2017, chapter 1. Pressures Pa, temperatures °C, humidities 0 to 1, enthalpies J/kg.
   */
  interface Psychrolib {
    readonly SI: number;
    SetUnitSystem(system: number): void;
    GetStandardAtmPressure(altitude_m: number): number;
    GetHumRatioFromRelHum(t_c: number, relative_humidity: number, pressure_pa: number): number;
    GetMoistAirEnthalpy(t_c: number, humidity_ratio: number): number;
  }
  const psychrolib: Psychrolib;
  export default psychrolib;
}

declare module "jstat" {
  interface Statistics {
    normal: { cdf(x: number, mean: number, sd: number): number; pdf(x: number, mean: number, sd: number): number };
    lognormal: {
      inv(share: number, mean: number, sd: number): number;
      mean(mean: number, sd: number): number;
    };
  }
  const jstat: Statistics;
  export default jstat;
}
