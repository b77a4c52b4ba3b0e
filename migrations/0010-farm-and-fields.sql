-- The farm, its seasons, its ground. A field is ground and stays; what may change from year to year stands in
-- field_season, so that a closed season reads as it was. Columns are named as the properties in src-shared.
-- Every undoable table has an integer key named id: the undo recorder finds rows by it.

CREATE TABLE farm (
  id INTEGER PRIMARY KEY CHECK (id = 1),
  name TEXT NOT NULL CHECK (name = trim(name) AND length(name) BETWEEN 1 AND 80),
  county TEXT CHECK (length(county) BETWEEN 1 AND 80),
  state TEXT CHECK (length(state) BETWEEN 1 AND 80),
  isDemo INTEGER NOT NULL DEFAULT 0 CHECK (isDemo IN (0, 1)),
  createdAt TEXT NOT NULL CHECK (strftime('%Y-%m-%dT%H:%M:%fZ', createdAt) IS createdAt)
) STRICT;

CREATE TABLE season (
  id INTEGER PRIMARY KEY,
  farmId INTEGER NOT NULL REFERENCES farm ON DELETE CASCADE,
  year INTEGER NOT NULL UNIQUE CHECK (year BETWEEN 2000 AND 2200), -- crop year: the year of harvest
  state TEXT NOT NULL DEFAULT 'open' CHECK (state IN ('open', 'closed'))
) STRICT;
CREATE INDEX season_farm ON season (farmId);
CREATE UNIQUE INDEX season_open ON season (state) WHERE state = 'open'; -- one season at a time is written in

CREATE TABLE field (
  id INTEGER PRIMARY KEY,
  farmId INTEGER NOT NULL REFERENCES farm ON DELETE CASCADE,
  name TEXT NOT NULL COLLATE NOCASE CHECK (name = trim(name) AND length(name) BETWEEN 1 AND 80),
  UNIQUE (farmId, name)
) STRICT;

CREATE TABLE field_season (
  id INTEGER PRIMARY KEY,
  fieldId INTEGER NOT NULL REFERENCES field ON DELETE CASCADE,
  seasonId INTEGER NOT NULL REFERENCES season ON DELETE CASCADE,
  acres REAL NOT NULL CHECK (acres > 0 AND acres <= 100000),
  rowSpacingIn REAL NOT NULL CHECK (rowSpacingIn BETWEEN 6 AND 120),
  rowPattern TEXT NOT NULL CHECK (rowPattern IN ('single', 'twin')),
  water TEXT NOT NULL CHECK (water IN ('irrigated', 'dryland')),
  soil TEXT CHECK (length(soil) BETWEEN 1 AND 80),
  tillage TEXT NOT NULL DEFAULT 'conventional' CHECK (tillage IN ('conventional', 'strip')),
  nematodesPer100cc REAL CHECK (nematodesPer100cc BETWEEN 0 AND 100000),
  growth TEXT NOT NULL DEFAULT 'usual' CHECK (growth IN ('slow', 'usual', 'rank')),
  yieldGoalLb REAL NOT NULL CHECK (yieldGoalLb BETWEEN 0 AND 20000), -- lb/acre
  dropKind TEXT CHECK (dropKind IN ('fixed', 'stand')), -- absent: the house drop
  dropPerFoot REAL CHECK (dropPerFoot BETWEEN 0.5 AND 30), -- seeds a foot, or plants a foot
  leastBlockAcres REAL CHECK (leastBlockAcres BETWEEN 0 AND 100000), -- absent: the field takes one variety
  mostVarieties INTEGER CHECK (mostVarieties BETWEEN 1 AND 100),
  note TEXT CHECK (length(note) <= 2000),
  UNIQUE (fieldId, seasonId),
  CHECK ((dropKind IS NULL) = (dropPerFoot IS NULL)),
  CHECK (dropKind IS NOT 'stand' OR dropPerFoot <= 20),
  CHECK ((leastBlockAcres IS NULL) = (mostVarieties IS NULL))
) STRICT;
CREATE INDEX field_season_season ON field_season (seasonId);

CREATE TABLE field_boundary (
  id INTEGER PRIMARY KEY,
  fieldId INTEGER NOT NULL UNIQUE REFERENCES field ON DELETE CASCADE,
  geometry TEXT NOT NULL CHECK (json_valid(geometry) AND json_extract(geometry, '$.type') IN ('Polygon', 'MultiPolygon'))
) STRICT;

CREATE TABLE crop_history (
  id INTEGER PRIMARY KEY,
  fieldId INTEGER NOT NULL REFERENCES field ON DELETE CASCADE,
  year INTEGER NOT NULL CHECK (year BETWEEN 1900 AND 2200),
  crop TEXT NOT NULL CHECK (length(crop) BETWEEN 1 AND 80)
) STRICT;
CREATE INDEX crop_history_field ON crop_history (fieldId, year); -- two crops in one year are usual: not unique

CREATE TABLE field_pressure (
  id INTEGER PRIMARY KEY,
  fieldSeasonId INTEGER NOT NULL REFERENCES field_season ON DELETE CASCADE,
  threatId INTEGER NOT NULL REFERENCES threat ON DELETE CASCADE,
  level TEXT NOT NULL CHECK (level IN ('none', 'low', 'moderate', 'high', 'severe')),
  UNIQUE (fieldSeasonId, threatId)
) STRICT;
CREATE INDEX field_pressure_threat ON field_pressure (threatId);

CREATE TABLE field_window (
  id INTEGER PRIMARY KEY,
  fieldSeasonId INTEGER NOT NULL REFERENCES field_season ON DELETE CASCADE,
  windowId INTEGER NOT NULL REFERENCES planting_window ON DELETE CASCADE,
  UNIQUE (fieldSeasonId, windowId)
) STRICT;
CREATE INDEX field_window_window ON field_window (windowId);
