import type { AssetUrl } from "../assets.ts";
import { Layout } from "../layout.tsx";
import type { FieldError } from "../parts/error-summary.tsx";
import { messagesOf, TextField } from "../parts/field.tsx";
import { FormFoot } from "../parts/form-foot.tsx";
import type { EntryFields, ReadBack } from "../vehicles/record/entry-fields.ts";
import { EntryForm } from "../vehicles/record/entry-form.tsx";
import { WAITING_PATH, WRITE_DOWN, WRITE_DOWN_PATH } from "../words/on-device.ts";

interface WriteDownPageProps {
  /** What the vehicle is called; asked for where `path` is null. */
  vehicle: string;
  /** The log that the entry goes to. */
  path: string | null;
  fields: EntryFields;
  read_back: ReadBack;
  errors: readonly FieldError[];
  asset: AssetUrl;
}

/** `/write-down`, made on a device without a connection: an entry that waits there until it can be sent. */
export function WriteDownPage({ vehicle, path, fields, read_back, errors, asset }: WriteDownPageProps) {
  const messages = messagesOf(errors);
  return (
    <Layout title={WRITE_DOWN} path={WRITE_DOWN_PATH} live asset={asset} errors={errors}>
      <div class="page-head">
        <h1>{WRITE_DOWN}</h1>
        <p>
          {path === null
            ? "It waits on this device. Once there is a connection, choose its vehicle and save it."
            : "For the vehicle that you opened. It waits on this device and is added to the log once there is a connection."}
        </p>
      </div>
      <form class="record-form" id="record-form" method="post" action={WRITE_DOWN_PATH} novalidate>
        {path === null ? (
          <TextField
            id="vehicle"
            name="vehicle"
            label="Which vehicle?"
            hint="In your own words, like the blue van"
            value={vehicle}
            error={messages.get("vehicle")}
            words
          />
        ) : (
          <input type="hidden" name="to" value={path} />
        )}
        <EntryForm
          fields={fields}
          messages={messages}
          read_back={read_back}
          read_back_path={`${WRITE_DOWN_PATH}/read-back`}
        />
        <FormFoot submit="Save on this device">
          <a href={WAITING_PATH}>Cancel</a>
        </FormFoot>
      </form>
    </Layout>
  );
}
