import * as z from "zod";
import { readingBounds } from "../../../data/readings-table.ts";
import { REFRIGERANTS } from "../../core/question/contract.ts";
import {
  CLUTCH,
  COMPRESSOR,
  CONDENSER,
  FAN,
  METERING,
  MORE_AIR,
  SIGHT_GLASS,
} from "../../core/readings/readings-contract.ts";
import { quantity } from "./assess-schema.ts";

/** What can be read at a vehicle, but the air temperature. °C, kPa absolute, %, rpm, m. */
export const read_shape = {
  humidity_percent: quantity(readingBounds.humidity_percent).nullish(),
  altitude_m: quantity(readingBounds.altitude_m).nullish(),
  static_kpa: quantity(readingBounds.static_kpa).nullish(),
  low_kpa: quantity(readingBounds.low_kpa).nullish(),
  high_kpa: quantity(readingBounds.high_kpa).nullish(),
  engine_rpm: quantity(readingBounds.engine_rpm).nullish(),
  vent_c: quantity(readingBounds.vent_c).nullish(),
  clutch: z.enum(CLUTCH).nullish(),
  fan: z.enum(FAN).nullish(),
  condenser: z.enum(CONDENSER).nullish(),
  more_air: z.enum(MORE_AIR).nullish(),
  suction_line_c: quantity(readingBounds.suction_line_c).nullish(),
  liquid_line_c: quantity(readingBounds.liquid_line_c).nullish(),
  equalizing_s: quantity(readingBounds.equalizing_s).nullish(),
  sight_glass: z.enum(SIGHT_GLASS).nullish(),
  metering: z.enum(METERING).nullish(),
  compressor: z.enum(COMPRESSOR).nullish(),
};

export const ambient_c = quantity(readingBounds.ambient_c);

/** Readings that come with what they are judged by: the refrigerant, and if it is known the size of the system. */
export const readingsSchema = z.strictObject({
  refrigerant: z.enum(REFRIGERANTS),
  nameplate_g: quantity(readingBounds.nameplate_g).nullish(),
  system_volume_ml: quantity(readingBounds.system_volume_ml).nullish(),
  ambient_c: ambient_c.nullish(),
  ...read_shape,
});
