import { Entry } from "../parts/entry.tsx";
import { TextField } from "../parts/field.tsx";

interface KeepVehicleProps {
  label: string;
  error: string | undefined;
  submit_key: string;
}

/** Saves all that was typed as a vehicle with a charge log of its own. */
export function KeepVehicle({ label, error, submit_key }: KeepVehicleProps) {
  return (
    <Entry name="Save it" id="keep-vehicle">
      <div class="keep-vehicle">
        <TextField id="label" name="label" label="Name, like the blue van" value={label} error={error} words />
        <button
          type="submit"
          class="button"
          name="submit_key"
          value={submit_key}
          formmethod="post"
          formaction="/vehicles"
        >
          Save this vehicle
        </button>
      </div>
    </Entry>
  );
}
