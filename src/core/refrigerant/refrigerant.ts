import { FIT_RANGE_C, type FitTerms, GAS_CONSTANT_J_MOL_K, REFRIGERANT_DATA } from "../../../data/refrigerants.ts";
import type { RefrigerantId } from "../question/contract.ts";

/**
 * Properties of the pure refrigerants: °C, kPa absolute, kg/m³. Saturation comes from the compact fits of
 * `data/refrigerants.ts`, valid from −40 to +90 °C. Outside they throw RangeError: beyond 90 °C the fits are far off.
 */

const KELVIN_AT_0_C = 273.15;
const NEWTON_STEPS = 40;

function kelvin(t_c: number): number {
  if (!(t_c >= FIT_RANGE_C.low && t_c <= FIT_RANGE_C.high)) {
    throw new RangeError(`Temperature must be ${FIT_RANGE_C.low} to ${FIT_RANGE_C.high} °C, not ${t_c}`);
  }
  return t_c + KELVIN_AT_0_C;
}

function fitSum(terms: FitTerms, theta: number): number {
  let sum = 0;
  for (const [n, exponent] of terms) sum += n * theta ** exponent;
  return sum;
}

function fitSlope(terms: FitTerms, theta: number): number {
  let slope = 0;
  for (const [n, exponent] of terms) slope += n * exponent * theta ** (exponent - 1);
  return slope;
}

/**
 * Pressure, kPa absolute, of liquid and vapor together at `t_c` °C (−40 to 90; else RangeError).
 * p = pc·exp[(Tc/T)·Σ nᵢ·θ^tᵢ], θ = 1 − T/Tc; within 0.011 % of the reference equations of state.
 */
export function saturationPressureKpa(refrigerant: RefrigerantId, t_c: number): number {
  const data = REFRIGERANT_DATA[refrigerant];
  const t_k = kelvin(t_c);
  const theta = 1 - t_k / data.critical_temperature_k;
  return (
    data.critical_pressure_kpa * Math.exp((data.critical_temperature_k / t_k) * fitSum(data.saturation_pressure, theta))
  );
}

/**
 * Temperature, °C, at which liquid and vapor stand at `p_kpa` kPa absolute: the inverse of `saturationPressureKpa`.
 * Throws RangeError when that is below −40 or above 90 °C (for R-134a: under 51.2 or over 3244 kPa).
 */
export function saturationTemperatureC(refrigerant: RefrigerantId, p_kpa: number): number {
  const p_low = saturationPressureKpa(refrigerant, FIT_RANGE_C.low);
  const p_high = saturationPressureKpa(refrigerant, FIT_RANGE_C.high);
  if (!(p_kpa >= p_low && p_kpa <= p_high)) {
    throw new RangeError(
      `Pressure of ${refrigerant} must be ${p_low.toFixed(1)} to ${p_high.toFixed(0)} kPa absolute, not ${p_kpa}`,
    );
  }
  // Newton's method in 1/T, in which ln p is nearly linear, so that it converges from anywhere in the range.
  const { critical_temperature_k, saturation_pressure } = REFRIGERANT_DATA[refrigerant];
  let t_c = 20;
  for (let step = 0; step < NEWTON_STEPS; step++) {
    const excess = Math.log(saturationPressureKpa(refrigerant, t_c) / p_kpa);
    if (Math.abs(excess) < 1e-14) break;
    const t_k = kelvin(t_c);
    const theta = 1 - t_k / critical_temperature_k;
    const slope =
      critical_temperature_k * fitSum(saturation_pressure, theta) + t_k * fitSlope(saturation_pressure, theta);
    t_c = Math.min(FIT_RANGE_C.high, Math.max(FIT_RANGE_C.low, 1 / (1 / t_k - excess / slope) - KELVIN_AT_0_C));
  }
  return t_c;
}

/**
 * Density of vapor in equilibrium with its liquid, kg/m³, at `t_c` °C (−40 to 90; else RangeError).
 * ρ″ = ρc·exp[Σ nᵢ·θ^tᵢ]; within 0.08 % of the reference equations of state.
 */
export function saturatedVaporDensity(refrigerant: RefrigerantId, t_c: number): number {
  const data = REFRIGERANT_DATA[refrigerant];
  return (
    data.critical_density_kg_m3 * Math.exp(fitSum(data.vapor_density, 1 - kelvin(t_c) / data.critical_temperature_k))
  );
}

/**
 * Density of vapor, kg/m³, at `t_c` °C (−40 to 90) and `p_kpa` kPa absolute, from 0 to the saturation pressure at
 * `t_c`; RangeError outside, since above it there is liquid and the density is not one number.
 *
 * Virial equation cut after the third coefficient, p = ρ·R·T·(1 + B·ρ + C·ρ²). B(T) is the corresponding-states value
 * of Pitzer and Curl in Abbott's form (Smith and Van Ness, Introduction to Chemical Engineering Thermodynamics):
 * B·pc/(R·Tc) = 0.083 − 0.422/Tr^1.6 + ω·(0.139 − 0.172/Tr^4.2). C is the value with which the equation passes through
 * the fitted saturation pressure and vapor density at `t_c`, so an error of B matters only between no density and
 * saturation, where it is least. Measured against the reference equations of state, superheated at 0 to 60 °C: within
 * 0.18 % for R-134a, 0.10 % for R-1234yf, 0.32 % for R-12.
 */
export function vaporDensityKgM3(refrigerant: RefrigerantId, t_c: number, p_kpa: number): number {
  const data = REFRIGERANT_DATA[refrigerant];
  const t_k = kelvin(t_c);
  const p_sat = saturationPressureKpa(refrigerant, t_c);
  if (!(p_kpa >= 0 && p_kpa <= p_sat)) {
    throw new RangeError(
      `Vapor of ${refrigerant} at ${t_c} °C has 0 to ${p_sat.toFixed(1)} kPa absolute, not ${p_kpa}`,
    );
  }
  const rho_sat = saturatedVaporDensity(refrigerant, t_c);
  const r = GAS_CONSTANT_J_MOL_K / data.molar_mass_g_mol; // kJ/(kg·K) = kPa·m³/(kg·K)
  const tr = t_k / data.critical_temperature_k;
  const b_reduced = 0.083 - 0.422 / tr ** 1.6 + data.acentric_factor * (0.139 - 0.172 / tr ** 4.2);
  const b = (b_reduced * r * data.critical_temperature_k) / data.critical_pressure_kpa;
  const c = (p_sat / (rho_sat * r * t_k) - 1 - b * rho_sat) / rho_sat ** 2;
  const p_over_rt = p_kpa / (r * t_k);
  // Newton from the ideal gas, whose density is too low: the curve p(ρ) is concave up to saturation, so each step stops
  // short of the root and none can pass the maximum of p.
  let rho = p_over_rt;
  for (let step = 0; step < NEWTON_STEPS; step++) {
    const change = (p_over_rt - rho * (1 + rho * (b + rho * c))) / (1 + rho * (2 * b + 3 * rho * c));
    rho += change;
    if (Math.abs(change) <= 1e-14 * rho) break;
  }
  return Math.min(rho, rho_sat);
}
