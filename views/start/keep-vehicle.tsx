import { Entry } from "../parts/entry.tsx";
import { TextField } from "../parts/field.tsx";

interface KeepVehicleProps {
  label: string;
  error: string | undefined;
  submit_key: string;
}

/** Keeps all that was typed as a vehicle with a charge log of its own. */
export function KeepVehicle({ label, error, submit_key }: KeepVehicleProps) {
  return (
    <Entry name="Keep it" id="keep-vehicle">
      <p>Keep the vehicle with all of this: its log grows, and the answer gets better with every entry.</p>
      <div class="keep-vehicle">
        <TextField
          id="label"
          name="label"
          label="Name"
          hint="Like the blue van; it can be changed later"
          value={label}
          error={error}
          words
        />
        <button
          type="submit"
          class="button"
          name="submit_key"
          value={submit_key}
          formmethod="post"
          formaction="/vehicles"
        >
          Keep this vehicle
        </button>
      </div>
    </Entry>
  );
}
