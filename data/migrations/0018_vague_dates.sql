-- What was remembered as a season or a year: how many days earlier or later than `date` it may have been. NULL: that day.
ALTER TABLE charge_log ADD COLUMN date_within_days INTEGER CHECK (date_within_days BETWEEN 1 AND 366);

DROP TRIGGER charge_log_keeps_its_figures;
CREATE TRIGGER charge_log_keeps_its_figures BEFORE UPDATE OF workspace_id, id, version, replaces, change, vehicle_id, number, date, date_within_days, cooling, recovered_g, added_g, added_by, finish, repair, dye, cooling_after, cans_opened, deposit, deposit_return_by, recorded_at, recorded_by ON charge_log
BEGIN SELECT RAISE(ABORT, 'a ledger is not edited'); END;
