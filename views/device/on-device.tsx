import { ON_DEVICE, ON_DEVICE_ID, WRITE_DOWN, WRITE_DOWN_PATH } from "../words/on-device.ts";

/** Says that this device made the page. */
export function OnDevice() {
  return (
    <p class="on-device" id={ON_DEVICE_ID} role="status">
      {ON_DEVICE} <a href={WRITE_DOWN_PATH}>{WRITE_DOWN}</a>
    </p>
  );
}
