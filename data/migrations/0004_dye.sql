-- Whether dye went in on that day: a reminder to look for it comes from it.
ALTER TABLE charge_log ADD COLUMN dye TEXT CHECK (dye IN ('added'));
