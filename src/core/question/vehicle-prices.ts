import { vehiclePrices } from "../../../data/vehicle-prices.ts";
import type { AssessRequest } from "./contract.ts";

/**
 * The request with the default prices that depend on the vehicle filled in where it names none: the service around a
 * repair, which depends on the refrigerant, and the compressor, which is dearer when high voltage drives it.
 */
export function withVehiclePrices(request: AssessRequest, vehicle: { electric: boolean }): AssessRequest {
  const given = request.prices ?? {};
  const { compressor } = given.locations ?? {};
  const repair_service = given.repair_service ?? vehiclePrices.repair_service.default[request.vehicle.refrigerant];
  if (!vehicle.electric || compressor?.price != null) return { ...request, prices: { ...given, repair_service } };
  const electric = { ...compressor, price: vehiclePrices.electric_compressor.default };
  return { ...request, prices: { ...given, repair_service, locations: { ...given.locations, compressor: electric } } };
}
