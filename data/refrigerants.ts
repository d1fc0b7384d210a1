import type { RefrigerantId } from "../src/core/question/contract.ts";

/** `n` and `exponent` of a sum Σ nᵢ·θ^tᵢ, θ = 1 − T/Tc. */
export type FitTerms = readonly (readonly [n: number, exponent: number])[];

export interface RefrigerantData {
  chemical_name: string;
  molar_mass_g_mol: number;
  critical_temperature_k: number;
  critical_pressure_kpa: number;
  critical_density_kg_m3: number;
  acentric_factor: number;
  /** p = pc·exp[(Tc/T)·Σ nᵢ·θ^tᵢ] */
  saturation_pressure: FitTerms;
  /** ρ″ = ρc·exp[Σ nᵢ·θ^tᵢ] */
  vapor_density: FitTerms;
  /** Where the constants and the equation of state behind the fits come from. */
  source: string;
}

/** Molar gas constant in J/(mol·K), as the R-134a and R-12 equations use it (CODATA's value differs by 1e-6). */
export const GAS_CONSTANT_J_MOL_K = 8.314471;

/** Range of the fits. */
export const FIT_RANGE_C = { low: -40, high: 90 } as const;

/**
 * Constants, and compact fits made for this project to the reference equation of state of each refrigerant, over −40 to
 * +90 °C. Largest deviation of the fits from it (pressure / vapor density), in percent:
 * R-134a 0.0036 / 0.0730, R-1234yf 0.0105 / 0.0633, R-12 0.0038 / 0.0246.
 */
export const REFRIGERANT_DATA: Readonly<Record<RefrigerantId, RefrigerantData>> = {
  "R-134a": {
    chemical_name: "1,1,1,2-tetrafluoroethane",
    molar_mass_g_mol: 102.032,
    critical_temperature_k: 374.21,
    critical_pressure_kpa: 4059.28,
    critical_density_kg_m3: 511.9,
    acentric_factor: 0.32684,
    saturation_pressure: [
      [-7.738055, 1],
      [2.638359, 3 / 2],
      [-2.581175, 2],
      [-4.150993, 9 / 2],
    ],
    vapor_density: [
      [-0.836922, 1 / 3],
      [-3.315045, 1 / 2],
      [-10.597186, 5 / 3],
      [-39.877281, 9 / 2],
    ],
    source: "Tillner-Roth and Baehr, J. Phys. Chem. Ref. Data 23 (1994) 657–729",
  },
  "R-1234yf": {
    chemical_name: "2,3,3,3-tetrafluoroprop-1-ene",
    molar_mass_g_mol: 114.0416,
    critical_temperature_k: 367.85,
    critical_pressure_kpa: 3384.4,
    critical_density_kg_m3: 476.69,
    acentric_factor: 0.276,
    saturation_pressure: [
      [-7.517705, 1],
      [2.618441, 3 / 2],
      [-2.447071, 2],
      [-4.92528, 5],
    ],
    vapor_density: [
      [-1.763497, 1 / 3],
      [-2.820179, 2 / 3],
      [-9.075679, 5 / 3],
      [-39.63752, 9 / 2],
    ],
    source: "Lemmon and Akasaka, Int. J. Thermophys. 43 (2022) 119",
  },
  "R-12": {
    chemical_name: "dichlorodifluoromethane",
    molar_mass_g_mol: 120.913,
    critical_temperature_k: 385.12,
    critical_pressure_kpa: 4136.1,
    critical_density_kg_m3: 565,
    acentric_factor: 0.17948,
    saturation_pressure: [
      [-7.038775, 1],
      [2.504938, 3 / 2],
      [-2.141857, 2],
      [-3.422815, 5],
    ],
    vapor_density: [
      [-0.66535, 1 / 3],
      [-3.222029, 1 / 2],
      [-9.000795, 5 / 3],
      [-32.891406, 9 / 2],
    ],
    source: "Marx, Pruß and Wagner, Fortschritt-Berichte VDI, series 19, no. 57, VDI Verlag, 1992",
  },
};
