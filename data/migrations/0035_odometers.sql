-- Model year of a vehicle, and the latest known reading of its odometer: {"km", "on"}. NULL: nobody said.
ALTER TABLE vehicles ADD COLUMN model_year INTEGER CHECK (model_year BETWEEN 1940 AND 2100);
ALTER TABLE vehicles ADD COLUMN odometer TEXT CHECK (json_valid(odometer));
