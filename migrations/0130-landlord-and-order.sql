-- Whose land a field is and how the farm agency numbers it, as growers' own lists have it; and the order of rows as their sheet had it.

ALTER TABLE field_season ADD COLUMN landlord TEXT CHECK (length(landlord) BETWEEN 1 AND 80);
ALTER TABLE field_season ADD COLUMN farmNumber TEXT CHECK (length(farmNumber) BETWEEN 1 AND 80);
ALTER TABLE field_season ADD COLUMN tract TEXT CHECK (length(tract) BETWEEN 1 AND 80);
ALTER TABLE field_season ADD COLUMN place TEXT CHECK (length(place) BETWEEN 1 AND 80);
-- Rows without one stand after those that have one, by name.
ALTER TABLE field_season ADD COLUMN position INTEGER CHECK (position BETWEEN 1 AND 1000000);
ALTER TABLE variety ADD COLUMN position INTEGER CHECK (position BETWEEN 1 AND 1000000);
ALTER TABLE dealer ADD COLUMN position INTEGER CHECK (position BETWEEN 1 AND 1000000);
ALTER TABLE quote ADD COLUMN position INTEGER CHECK (position BETWEEN 1 AND 1000000);
