import { isOverdue, type Reminder } from "../../src/core/reminders.ts";
import type { AssetUrl } from "../assets.ts";
import { Layout } from "../layout.tsx";
import { WayBack } from "../parts/way-back.tsx";
import { capitalized } from "../words/in-sentence.ts";
import { Day } from "../words/said.tsx";
import { reminderWords } from "./reminder-words.ts";

interface RemindersPageProps {
  vehicle: { id: string; label: string };
  reminders: readonly Reminder[];
  /** The day where the workspace is. */
  today: string;
  /** Whether the one who looks may make the link of a calendar for all vehicles. */
  may_share: boolean;
  asset: AssetUrl;
}

/** `/vehicles/:id/reminders`: what there is to do or to look for, and when. */
export function RemindersPage({ vehicle, reminders, today, may_share, asset }: RemindersPageProps) {
  const path = `/vehicles/${vehicle.id}`;
  return (
    <Layout title={`Reminders for ${vehicle.label}`} path="/vehicles" asset={asset}>
      <header class="page-head">
        <WayBack href={path}>{vehicle.label}</WayBack>
        <h1>Reminders</h1>
      </header>
      {reminders.length === 0 ? (
        <Nothing path={path} />
      ) : (
        <>
          <ol class="reminders">
            {reminders.map((reminder) => (
              <ReminderItem reminder={reminder} today={today} />
            ))}
          </ol>
          <p class="actions">
            <a class="button" href={`${path}/reminders.ics`} download>
              Put them into a calendar
            </a>
          </p>
          <p class="soft">
            Works with any calendar. Dates change as you add entries: download the file again to update them.{" "}
            {may_share && (
              <>
                Or subscribe to <a href="/settings/access#calendar">one calendar of all vehicles</a>, which keeps itself
                up to date.
              </>
            )}
          </p>
        </>
      )}
    </Layout>
  );
}

function ReminderItem({ reminder, today }: { reminder: Reminder; today: string }) {
  const { title, text } = reminderWords(reminder);
  return (
    <li>
      <p class="reminder-date">
        {isOverdue(reminder, today) && <strong>Overdue since </strong>}
        <Day iso={reminder.date} />
        {reminder.kind === "next-low" && reminder.until !== null && (
          <>
            {" "}
            to <Day iso={reminder.until} />
          </>
        )}
      </p>
      <div>
        <h2>{capitalized(title)}</h2>
        <p>{text}</p>
      </div>
    </li>
  );
}

function Nothing({ path }: { path: string }) {
  return (
    <>
      <p>No reminders yet.</p>
      <p>
        <a href={`${path}/log/new`}>Add entries</a>. After two, you get a date when it may be low again. Repairs, dye
        and can deposits get reminders too.
      </p>
    </>
  );
}
