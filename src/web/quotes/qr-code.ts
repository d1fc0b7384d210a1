import { encode } from "uqr";
import type { QrCode } from "../../../views/parts/qr-picture.tsx";

/** The code of an address (ISO/IEC 18004), level M: it stands on paper that gets folded and stained. */
export function qrCode(address: string): QrCode {
  const { data, size } = encode(address, { ecc: "M", border: 0 });
  return { size, dark: data };
}
