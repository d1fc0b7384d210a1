import { FLEET_FIELDS, type FleetField, fleetFields, MASS_COLUMN_UNITS } from "../../data/fleet-format.ts";
import type { AssetUrl } from "../assets.ts";
import type { FieldError } from "../parts/error-summary.tsx";
import { RadioField, SelectField } from "../parts/field.tsx";
import { FleetFrame } from "./frame.tsx";
import { saidNumber } from "./shown.ts";

export interface ShownColumn {
  index: number;
  header: string;
  samples: readonly string[];
  field: FleetField | "none";
}

export interface AskedUnit {
  column: number;
  header: string;
  least: number;
  largest: number;
  value: string;
}

export interface ShownFile {
  name: string;
  rows: number;
  broken: string | null;
  columns: readonly ShownColumn[];
  units: readonly AskedUnit[];
  date: { header: string; example: string; value: string } | null;
}

interface QuestionsPageProps {
  id: string;
  files: readonly ShownFile[];
  errors: readonly FieldError[];
  asset: AssetUrl;
}

/** The questions to answer before the rows can be read. */
export function QuestionsPage({ id, files, errors, asset }: QuestionsPageProps) {
  const broken = files.filter((file) => file.broken !== null);
  return (
    <FleetFrame title="Questions about the file" path="/fleet/import" asset={asset} errors={errors}>
      <h1 class="page-title">
        {broken.length > 0 ? "The file cannot be read to its end" : "What do the columns mean?"}
      </h1>
      {broken.map(({ name, broken: why }) => (
        <p>
          <strong dir="auto">{name}</strong>: {why}
        </p>
      ))}
      {broken.length === 0 && (
        <form class="fleet-mapping" method="post" action={`/fleet/import/${id}/answers`}>
          {files.map((file, number) => (
            <fieldset>
              <legend dir="auto">
                {file.name}, {saidNumber(file.rows)} rows
              </legend>
              {file.date !== null && (
                <RadioField
                  id={`f${number}-date`}
                  name={`f${number}-date`}
                  label={`In “${file.date.header}”, which comes first?`}
                  hint={`${file.date.example} could be two dates, and no other date in the column decides it`}
                  error={errors.find(({ field }) => field === `f${number}-date`)?.message}
                  value={file.date.value}
                  choices={[
                    { value: "day-first", label: "the day" },
                    { value: "month-first", label: "the month" },
                  ]}
                />
              )}
              {file.units.map(({ column, header, least, largest, value }) => (
                <SelectField
                  id={`f${number}-unit-${column}`}
                  name={`f${number}-unit-${column}`}
                  label={`Unit of the numbers in “${header}”`}
                  hint={least === largest ? `They are ${least}` : `They go from ${least} to ${largest}`}
                  error={errors.find(({ field }) => field === `f${number}-unit-${column}`)?.message}
                  value={value}
                  choices={[
                    { value: "", label: "Choose" },
                    ...MASS_COLUMN_UNITS.map((unit) => ({ value: unit, label: unit })),
                  ]}
                />
              ))}
              {file.columns.map(({ index, header, samples, field }) => (
                <SelectField
                  id={`f${number}-column-${index}`}
                  name={`f${number}-column-${index}`}
                  label={header === "" ? `Column ${index + 1}` : `“${header}”`}
                  hint={samples.length === 0 ? "Empty" : `Like ${samples.join(" · ")}`}
                  error={errors.find((error) => error.field === `f${number}-column-${index}`)?.message}
                  value={field}
                  choices={[
                    { value: "none", label: "Leave it out" },
                    ...FLEET_FIELDS.map((one) => ({ value: one, label: fleetFields[one].label })),
                  ]}
                />
              ))}
            </fieldset>
          ))}
          <div class="actions">
            <button type="submit" class="button">
              Read the rows
            </button>
          </div>
        </form>
      )}
      <form class="fleet-below" method="post" action={`/fleet/import/${id}/back`}>
        <button type="submit" class="button-quiet">
          Take the file back
        </button>
      </form>
    </FleetFrame>
  );
}
