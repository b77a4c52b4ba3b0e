-- Fall: loads over the scale and the grader, trouble seen, and costs nobody typed before.

CREATE TABLE load (
  id INTEGER PRIMARY KEY,
  seasonId INTEGER NOT NULL REFERENCES season ON DELETE CASCADE,
  fieldSeasonId INTEGER NOT NULL REFERENCES field_season ON DELETE RESTRICT,
  varietyId INTEGER REFERENCES variety ON DELETE RESTRICT,
  ticket TEXT CHECK (length(ticket) BETWEEN 1 AND 80),
  hauledOn TEXT NOT NULL CHECK (date(hauledOn) IS hauledOn),
  grossPounds REAL NOT NULL CHECK (grossPounds BETWEEN 0 AND 1000000),
  tarePounds REAL NOT NULL DEFAULT 0 CHECK (tarePounds BETWEEN 0 AND grossPounds),
  moisture REAL CHECK (moisture BETWEEN 0 AND 1), -- shares of the net weight, 0 to 1
  foreignMaterial REAL CHECK (foreignMaterial BETWEEN 0 AND 1),
  looseKernels REAL CHECK (looseKernels BETWEEN 0 AND 1),
  soundMatureKernels REAL CHECK (soundMatureKernels BETWEEN 0 AND 1),
  soundSplits REAL CHECK (soundSplits BETWEEN 0 AND 1),
  otherKernels REAL CHECK (otherKernels BETWEEN 0 AND 1),
  damagedKernels REAL CHECK (damagedKernels BETWEEN 0 AND 1),
  hulls REAL CHECK (hulls BETWEEN 0 AND 1),
  segregation INTEGER CHECK (segregation BETWEEN 1 AND 3),
  priceBasis TEXT CHECK (priceBasis IN ('contract', 'market', 'loan schedule')),
  centsPerTon INTEGER CHECK (centsPerTon BETWEEN 0 AND 100000000),
  paidCents INTEGER CHECK (paidCents BETWEEN 0 AND 10000000000),
  buyer TEXT CHECK (length(buyer) BETWEEN 1 AND 80),
  note TEXT CHECK (length(note) <= 2000)
) STRICT;
CREATE INDEX load_season ON load (seasonId);
CREATE INDEX load_field ON load (fieldSeasonId);
CREATE INDEX load_variety ON load (varietyId);

CREATE TABLE threat_seen (
  id INTEGER PRIMARY KEY,
  seasonId INTEGER NOT NULL REFERENCES season ON DELETE CASCADE,
  fieldSeasonId INTEGER NOT NULL REFERENCES field_season ON DELETE CASCADE,
  threatId INTEGER NOT NULL REFERENCES threat ON DELETE RESTRICT,
  seenOn TEXT CHECK (date(seenOn) IS seenOn),
  level TEXT NOT NULL CHECK (level IN ('none', 'low', 'moderate', 'high', 'severe')),
  loss REAL CHECK (loss BETWEEN 0 AND 1),
  note TEXT CHECK (length(note) <= 2000)
) STRICT;
CREATE INDEX threat_seen_season ON threat_seen (seasonId);
CREATE INDEX threat_seen_field ON threat_seen (fieldSeasonId);
CREATE INDEX threat_seen_threat ON threat_seen (threatId);

CREATE TABLE cost_entry (
  id INTEGER PRIMARY KEY,
  seasonId INTEGER NOT NULL REFERENCES season ON DELETE CASCADE,
  fieldSeasonId INTEGER REFERENCES field_season ON DELETE RESTRICT, -- absent: the whole farm's
  dealerId INTEGER REFERENCES dealer ON DELETE RESTRICT,
  kind TEXT NOT NULL CHECK (kind IN ('seed', 'return credit', 'measure', 'replanting', 'digging', 'combining', 'other')),
  says TEXT NOT NULL CHECK (length(says) BETWEEN 1 AND 80),
  spentOn TEXT CHECK (date(spentOn) IS spentOn),
  cents INTEGER NOT NULL CHECK (cents BETWEEN -10000000000 AND 10000000000), -- a credit is less than nothing
  perAcre INTEGER NOT NULL DEFAULT 0 CHECK (perAcre IN (0, 1)), -- of the acres planted
  note TEXT CHECK (length(note) <= 2000)
) STRICT;
CREATE INDEX cost_entry_season ON cost_entry (seasonId);
CREATE INDEX cost_entry_field ON cost_entry (fieldSeasonId);
CREATE INDEX cost_entry_dealer ON cost_entry (dealerId);

-- What was said of a lesson: taken, or set aside. The value that it is about is its key.
CREATE TABLE lesson (
  id INTEGER PRIMARY KEY,
  seasonId INTEGER NOT NULL REFERENCES season ON DELETE CASCADE, -- the season that it was written into
  fromYear INTEGER NOT NULL CHECK (fromYear BETWEEN 2000 AND 2200), -- the season that taught it
  key TEXT NOT NULL CHECK (length(key) BETWEEN 1 AND 300),
  state TEXT NOT NULL CHECK (state IN ('taken', 'set aside')),
  about TEXT NOT NULL,
  old TEXT NOT NULL, -- as they were shown
  proposed TEXT NOT NULL,
  UNIQUE (seasonId, fromYear, key)
) STRICT;
