-- What the crop is sold for: contracts by market type and oil type, and of which market type a variety is.

ALTER TABLE variety ADD COLUMN marketType TEXT NOT NULL DEFAULT 'runner' CHECK (marketType IN ('runner', 'virginia', 'spanish', 'valencia'));
CREATE TABLE contract (
  id INTEGER PRIMARY KEY,
  seasonId INTEGER NOT NULL REFERENCES season ON DELETE CASCADE,
  name TEXT NOT NULL CHECK (name = trim(name) AND length(name) BETWEEN 1 AND 80),
  marketType TEXT CHECK (marketType IN ('runner', 'virginia', 'spanish', 'valencia')), -- absent: any
  oilType TEXT CHECK (oilType IN ('high oleic', 'normal')), -- absent: any
  perTonCents INTEGER NOT NULL CHECK (perTonCents BETWEEN 0 AND 1000000), -- cents a ton at the usual grade
  premiumCents INTEGER NOT NULL DEFAULT 0 CHECK (premiumCents BETWEEN 0 AND 1000000), -- cents a ton on top
  tons REAL CHECK (tons BETWEEN 0.1 AND 1000000), -- absent: no limit
  note TEXT CHECK (length(note) <= 2000)
) STRICT;
CREATE INDEX contract_season ON contract (seasonId);
