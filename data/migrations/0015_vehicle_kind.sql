-- What a vehicle is, which says how fast its like leak; and whether there is leak dye in its compressor's own oil, the
-- only dye for a compressor that high voltage drives. NULL in both: nobody said.
ALTER TABLE vehicles ADD COLUMN kind TEXT CHECK (kind IN ('car', 'van', 'heavy-vehicle', 'bus'));
ALTER TABLE vehicles ADD COLUMN dye_in_own_oil INTEGER CHECK (dye_in_own_oil IN (0, 1));
