-- What a pipe thermometer, a watch and a look at the parts add to a set of readings; null in every set from before.

ALTER TABLE readings ADD COLUMN suction_line_c REAL CHECK (suction_line_c BETWEEN -40 AND 80);
ALTER TABLE readings ADD COLUMN liquid_line_c REAL CHECK (liquid_line_c BETWEEN -40 AND 100);
ALTER TABLE readings ADD COLUMN equalizing_s REAL CHECK (equalizing_s BETWEEN 0 AND 3600);
ALTER TABLE readings ADD COLUMN sight_glass TEXT CHECK (sight_glass IN ('clear', 'bubbles'));
ALTER TABLE readings ADD COLUMN metering TEXT CHECK (metering IN ('valve', 'orifice-tube'));
ALTER TABLE readings ADD COLUMN compressor TEXT CHECK (compressor IN ('fixed', 'variable', 'electric'));
