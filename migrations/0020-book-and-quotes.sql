-- What is known and offered in one season: threats, windows, machines, varieties, measures, dealers, quotes, house
-- rules. All of it belongs to a season, not to the farm: a new season copies it, and the closed one stays readable
-- as it was without a second table of versions. Seasons are compared by name.

CREATE TABLE threat (
  id INTEGER PRIMARY KEY,
  seasonId INTEGER NOT NULL REFERENCES season ON DELETE CASCADE,
  name TEXT NOT NULL COLLATE NOCASE CHECK (name = trim(name) AND length(name) BETWEEN 1 AND 80),
  kind TEXT NOT NULL CHECK (kind IN ('leaf', 'soil', 'virus', 'nematode', 'other')),
  note TEXT CHECK (length(note) <= 2000),
  UNIQUE (seasonId, name)
) STRICT;

CREATE TABLE planting_window (
  id INTEGER PRIMARY KEY,
  seasonId INTEGER NOT NULL REFERENCES season ON DELETE CASCADE,
  name TEXT NOT NULL COLLATE NOCASE CHECK (name = trim(name) AND length(name) BETWEEN 1 AND 80),
  kind TEXT NOT NULL CHECK (kind IN ('early', 'usual', 'late')),
  opens TEXT NOT NULL CHECK (date('2024-' || opens) IS '2024-' || opens), -- as 04-28
  closes TEXT NOT NULL CHECK (date('2024-' || closes) IS '2024-' || closes),
  fitDays REAL NOT NULL CHECK (fitDays BETWEEN 0 AND 120),
  UNIQUE (seasonId, name)
) STRICT;

CREATE TABLE machine (
  id INTEGER PRIMARY KEY,
  seasonId INTEGER NOT NULL REFERENCES season ON DELETE CASCADE,
  name TEXT NOT NULL CHECK (name = trim(name) AND length(name) BETWEEN 1 AND 80),
  kind TEXT NOT NULL CHECK (kind IN ('planter', 'digger', 'combine')),
  count INTEGER NOT NULL DEFAULT 1 CHECK (count BETWEEN 1 AND 1000),
  widthFt REAL NOT NULL CHECK (widthFt BETWEEN 1 AND 200),
  speedMph REAL NOT NULL CHECK (speedMph BETWEEN 0.1 AND 30),
  fieldEfficiency REAL NOT NULL CHECK (fieldEfficiency BETWEEN 0 AND 1),
  hoursPerDay REAL NOT NULL CHECK (hoursPerDay BETWEEN 0 AND 24)
) STRICT;
CREATE INDEX machine_season ON machine (seasonId);

CREATE TABLE variety (
  id INTEGER PRIMARY KEY,
  seasonId INTEGER NOT NULL REFERENCES season ON DELETE CASCADE,
  name TEXT NOT NULL COLLATE NOCASE CHECK (name = trim(name) AND length(name) BETWEEN 1 AND 80),
  oilType TEXT NOT NULL DEFAULT 'normal' CHECK (oilType IN ('high oleic', 'normal')),
  seedsPerPound REAL NOT NULL CHECK (seedsPerPound BETWEEN 200 AND 2000),
  germination REAL NOT NULL DEFAULT 0.85 CHECK (germination BETWEEN 0.3 AND 1),
  vine TEXT NOT NULL CHECK (vine IN ('compact', 'medium', 'large', 'very large')),
  daysToMaturity INTEGER NOT NULL CHECK (daysToMaturity BETWEEN 80 AND 220),
  yieldIndex REAL NOT NULL DEFAULT 1 CHECK (yieldIndex BETWEEN 0.3 AND 2),
  gradeIndex REAL NOT NULL DEFAULT 1 CHECK (gradeIndex BETWEEN 0.5 AND 1.5),
  isTreated INTEGER NOT NULL DEFAULT 1 CHECK (isTreated IN (0, 1)),
  note TEXT CHECK (length(note) <= 2000),
  UNIQUE (seasonId, name)
) STRICT;

CREATE TABLE rating (
  id INTEGER PRIMARY KEY,
  varietyId INTEGER NOT NULL REFERENCES variety ON DELETE CASCADE,
  threatId INTEGER NOT NULL REFERENCES threat ON DELETE CASCADE,
  rating INTEGER NOT NULL CHECK (rating BETWEEN 1 AND 9), -- 1 hardly takes it … 9 very susceptible
  UNIQUE (varietyId, threatId)
) STRICT;
CREATE INDEX rating_threat ON rating (threatId);

CREATE TABLE measure (
  id INTEGER PRIMARY KEY,
  seasonId INTEGER NOT NULL REFERENCES season ON DELETE CASCADE,
  name TEXT NOT NULL COLLATE NOCASE CHECK (name = trim(name) AND length(name) BETWEEN 1 AND 80),
  "group" TEXT NOT NULL CHECK (length("group") BETWEEN 1 AND 80),
  centsPerAcre REAL NOT NULL CHECK (centsPerAcre BETWEEN 0 AND 10000000), -- a rate, so it may have a fraction
  isPesticide INTEGER NOT NULL DEFAULT 1 CHECK (isPesticide IN (0, 1)),
  source TEXT CHECK (length(source) <= 2000),
  fromLabel TEXT CHECK (length(fromLabel) <= 2000),
  UNIQUE (seasonId, name)
) STRICT;

CREATE TABLE measure_efficacy (
  id INTEGER PRIMARY KEY,
  measureId INTEGER NOT NULL REFERENCES measure ON DELETE CASCADE,
  threatId INTEGER NOT NULL REFERENCES threat ON DELETE CASCADE,
  share REAL NOT NULL CHECK (share BETWEEN 0 AND 1), -- of the threat's loss that is prevented
  UNIQUE (measureId, threatId)
) STRICT;
CREATE INDEX measure_efficacy_threat ON measure_efficacy (threatId);

CREATE TABLE programme (
  id INTEGER PRIMARY KEY,
  seasonId INTEGER NOT NULL REFERENCES season ON DELETE CASCADE,
  name TEXT NOT NULL COLLATE NOCASE CHECK (name = trim(name) AND length(name) BETWEEN 1 AND 80),
  note TEXT CHECK (length(note) <= 2000),
  UNIQUE (seasonId, name)
) STRICT;

CREATE TABLE programme_measure (
  id INTEGER PRIMARY KEY,
  programmeId INTEGER NOT NULL REFERENCES programme ON DELETE CASCADE,
  measureId INTEGER NOT NULL REFERENCES measure ON DELETE CASCADE,
  UNIQUE (programmeId, measureId)
) STRICT;
CREATE INDEX programme_measure_measure ON programme_measure (measureId);

CREATE TABLE dealer (
  id INTEGER PRIMARY KEY,
  seasonId INTEGER NOT NULL REFERENCES season ON DELETE CASCADE,
  name TEXT NOT NULL COLLATE NOCASE CHECK (name = trim(name) AND length(name) BETWEEN 1 AND 80),
  orderFeeCents INTEGER NOT NULL DEFAULT 0 CHECK (orderFeeCents BETWEEN 0 AND 10000000000),
  leastPounds REAL NOT NULL DEFAULT 0 CHECK (leastPounds BETWEEN 0 AND 100000000),
  mostPounds REAL CHECK (mostPounds BETWEEN 0 AND 100000000),
  depositShare REAL CHECK (depositShare BETWEEN 0 AND 1), -- of the order's total; absent: none asked for
  note TEXT CHECK (length(note) <= 2000),
  UNIQUE (seasonId, name)
) STRICT;

CREATE TABLE dealer_break (
  id INTEGER PRIMARY KEY,
  dealerId INTEGER NOT NULL REFERENCES dealer ON DELETE CASCADE,
  fromPounds REAL NOT NULL CHECK (fromPounds BETWEEN 1 AND 100000000),
  offCentsPerPound REAL NOT NULL CHECK (offCentsPerPound BETWEEN 0 AND 1000) -- a rate, so it may have a fraction
) STRICT;
CREATE INDEX dealer_break_dealer ON dealer_break (dealerId);

CREATE TABLE quote (
  id INTEGER PRIMARY KEY,
  seasonId INTEGER NOT NULL REFERENCES season ON DELETE CASCADE,
  dealerId INTEGER NOT NULL REFERENCES dealer ON DELETE CASCADE,
  varietyId INTEGER NOT NULL REFERENCES variety ON DELETE CASCADE,
  name TEXT CHECK (name = trim(name) AND length(name) BETWEEN 1 AND 80),
  packPounds REAL NOT NULL CHECK (packPounds BETWEEN 1 AND 10000),
  packPriceCents INTEGER NOT NULL CHECK (packPriceCents BETWEEN 0 AND 10000000000),
  availablePacks INTEGER CHECK (availablePacks BETWEEN 0 AND 1000000),
  leastPacks INTEGER NOT NULL DEFAULT 0 CHECK (leastPacks BETWEEN 0 AND 1000000),
  orderBy TEXT CHECK (date(orderBy) IS orderBy),
  returnBy TEXT CHECK (date(returnBy) IS returnBy),
  returnCredit REAL NOT NULL DEFAULT 0 CHECK (returnCredit BETWEEN 0 AND 1),
  note TEXT CHECK (length(note) <= 2000)
) STRICT;
CREATE UNIQUE INDEX quote_title ON quote (seasonId, dealerId, varietyId, ifnull(name, ''));
CREATE INDEX quote_dealer ON quote (dealerId);
CREATE INDEX quote_variety ON quote (varietyId);

CREATE TABLE quote_break (
  id INTEGER PRIMARY KEY,
  quoteId INTEGER NOT NULL REFERENCES quote ON DELETE CASCADE,
  fromPacks INTEGER NOT NULL CHECK (fromPacks BETWEEN 1 AND 1000000),
  packPriceCents INTEGER NOT NULL CHECK (packPriceCents BETWEEN 0 AND 10000000000)
) STRICT;
CREATE INDEX quote_break_quote ON quote_break (quoteId);

CREATE TABLE carried_seed (
  id INTEGER PRIMARY KEY,
  seasonId INTEGER NOT NULL REFERENCES season ON DELETE CASCADE,
  varietyId INTEGER NOT NULL REFERENCES variety ON DELETE CASCADE,
  fromLotId INTEGER REFERENCES lot ON DELETE SET NULL, -- the lot of the earlier season it was left from
  lot TEXT CHECK (length(lot) BETWEEN 1 AND 80),
  pounds REAL NOT NULL CHECK (pounds BETWEEN 0 AND 10000000),
  germination REAL CHECK (germination BETWEEN 0 AND 1), -- absent: not yet retested
  mustUse INTEGER NOT NULL DEFAULT 0 CHECK (mustUse IN (0, 1)),
  isOwnGrown INTEGER NOT NULL DEFAULT 0 CHECK (isOwnGrown IN (0, 1))
) STRICT;
CREATE INDEX carried_seed_season ON carried_seed (seasonId);
CREATE INDEX carried_seed_variety ON carried_seed (varietyId);
CREATE INDEX carried_seed_lot ON carried_seed (fromLotId);

CREATE TABLE house_rule (
  id INTEGER PRIMARY KEY,
  seasonId INTEGER NOT NULL REFERENCES season ON DELETE CASCADE,
  rule TEXT NOT NULL CHECK (length(rule) BETWEEN 1 AND 80),
  varietyId INTEGER REFERENCES variety ON DELETE CASCADE, -- the subject, by id where it can be renamed
  threatId INTEGER REFERENCES threat ON DELETE CASCADE,
  subject TEXT CHECK (length(subject) BETWEEN 1 AND 80), -- any other subject, as an oil type
  amount REAL CHECK (amount BETWEEN 0 AND 10000000000),
  isOn INTEGER NOT NULL DEFAULT 1 CHECK (isOn IN (0, 1)),
  note TEXT CHECK (length(note) <= 2000),
  CHECK ((varietyId IS NOT NULL) + (threatId IS NOT NULL) + (subject IS NOT NULL) <= 1)
) STRICT;
CREATE INDEX house_rule_season ON house_rule (seasonId);
CREATE INDEX house_rule_variety ON house_rule (varietyId);
CREATE INDEX house_rule_threat ON house_rule (threatId);

CREATE TABLE assumption (
  id INTEGER PRIMARY KEY,
  seasonId INTEGER NOT NULL REFERENCES season ON DELETE CASCADE,
  key TEXT NOT NULL CHECK (length(key) BETWEEN 1 AND 300),
  numberValue REAL,
  wordValue TEXT CHECK (length(wordValue) <= 80),
  unit TEXT NOT NULL DEFAULT '',
  low REAL,
  high REAL,
  affects TEXT CHECK (length(affects) <= 2000),
  source TEXT NOT NULL DEFAULT '' CHECK (length(source) <= 2000),
  sourceKind TEXT NOT NULL
    CHECK (sourceKind IN ('published', 'derived', 'common practice', 'our estimate', 'from memory', 'the farm')),
  isChangedByUser INTEGER NOT NULL DEFAULT 0 CHECK (isChangedByUser IN (0, 1)),
  UNIQUE (seasonId, key),
  CHECK ((numberValue IS NULL) <> (wordValue IS NULL))
) STRICT;

CREATE TABLE field_lock (
  id INTEGER PRIMARY KEY,
  fieldSeasonId INTEGER NOT NULL REFERENCES field_season ON DELETE CASCADE,
  varietyId INTEGER NOT NULL REFERENCES variety ON DELETE CASCADE,
  windowId INTEGER REFERENCES planting_window ON DELETE CASCADE
) STRICT;
CREATE INDEX field_lock_field ON field_lock (fieldSeasonId);
CREATE INDEX field_lock_variety ON field_lock (varietyId);
CREATE INDEX field_lock_window ON field_lock (windowId);

CREATE TABLE exclusion (
  id INTEGER PRIMARY KEY,
  seasonId INTEGER NOT NULL REFERENCES season ON DELETE CASCADE,
  fieldSeasonId INTEGER REFERENCES field_season ON DELETE CASCADE,
  varietyId INTEGER REFERENCES variety ON DELETE CASCADE,
  windowId INTEGER REFERENCES planting_window ON DELETE CASCADE,
  CHECK (coalesce(fieldSeasonId, varietyId, windowId) IS NOT NULL)
) STRICT;
CREATE INDEX exclusion_season ON exclusion (seasonId);
CREATE INDEX exclusion_field ON exclusion (fieldSeasonId);
CREATE INDEX exclusion_variety ON exclusion (varietyId);
CREATE INDEX exclusion_window ON exclusion (windowId);
