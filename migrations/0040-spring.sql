-- Spring: what arrived, what its tag says, which lot went into which ground. Whatever has been planted can be traced
-- for as long as the file lives: ON DELETE RESTRICT where a record leans on another.

CREATE TABLE delivery (
  id INTEGER PRIMARY KEY,
  seasonId INTEGER NOT NULL REFERENCES season ON DELETE CASCADE,
  dealerId INTEGER NOT NULL REFERENCES dealer ON DELETE RESTRICT,
  purchaseOrderId INTEGER REFERENCES purchase_order ON DELETE SET NULL,
  arrivedOn TEXT NOT NULL CHECK (date(arrivedOn) IS arrivedOn),
  ticket TEXT CHECK (length(ticket) BETWEEN 1 AND 80),
  scalePounds REAL CHECK (scalePounds BETWEEN 0 AND 10000000),
  note TEXT CHECK (length(note) <= 2000)
) STRICT;
CREATE INDEX delivery_season ON delivery (seasonId);
CREATE INDEX delivery_dealer ON delivery (dealerId);
CREATE INDEX delivery_order ON delivery (purchaseOrderId);

-- What a dealer says of the rest of an order's line: it comes later, or not at all.
CREATE TABLE line_promise (
  id INTEGER PRIMARY KEY,
  orderLineId INTEGER NOT NULL UNIQUE REFERENCES order_line ON DELETE CASCADE,
  says TEXT NOT NULL CHECK (says IN ('later', 'not coming')),
  expectedOn TEXT CHECK (date(expectedOn) IS expectedOn),
  note TEXT CHECK (length(note) <= 2000)
) STRICT;

CREATE TABLE lot (
  id INTEGER PRIMARY KEY,
  seasonId INTEGER NOT NULL REFERENCES season ON DELETE CASCADE,
  varietyId INTEGER NOT NULL REFERENCES variety ON DELETE RESTRICT,
  dealerId INTEGER REFERENCES dealer ON DELETE RESTRICT, -- absent: own seed
  deliveryId INTEGER REFERENCES delivery ON DELETE RESTRICT,
  orderLineId INTEGER REFERENCES order_line ON DELETE SET NULL,
  carriedSeedId INTEGER REFERENCES carried_seed ON DELETE SET NULL,
  lotNumber TEXT NOT NULL CHECK (length(lotNumber) BETWEEN 1 AND 80), -- two dealers may use the same: not unique
  state TEXT NOT NULL DEFAULT 'received' CHECK (state IN ('received', 'refused', 'returned')),
  packs INTEGER CHECK (packs BETWEEN 0 AND 1000000),
  packPounds REAL CHECK (packPounds BETWEEN 1 AND 10000),
  pounds REAL NOT NULL CHECK (pounds BETWEEN 0 AND 10000000),
  returnedPounds REAL NOT NULL DEFAULT 0 CHECK (returnedPounds BETWEEN 0 AND 10000000),
  leftPounds REAL CHECK (leftPounds BETWEEN 0 AND 10000000), -- counted when planting was over; absent: not counted
  seedsPerPound REAL CHECK (seedsPerPound BETWEEN 200 AND 2000),
  note TEXT CHECK (length(note) <= 2000)
) STRICT;
CREATE INDEX lot_season ON lot (seasonId);
CREATE INDEX lot_variety ON lot (varietyId);
CREATE INDEX lot_dealer ON lot (dealerId);
CREATE INDEX lot_delivery ON lot (deliveryId);
CREATE INDEX lot_order_line ON lot (orderLineId);
CREATE INDEX lot_carried ON lot (carriedSeedId);

-- All that federal seed law asks of a label (7 CFR 201.8 to 201.31a); shares are 0 to 1.
CREATE TABLE tag (
  id INTEGER PRIMARY KEY,
  lotId INTEGER NOT NULL UNIQUE REFERENCES lot ON DELETE CASCADE,
  kind TEXT NOT NULL CHECK (length(kind) BETWEEN 1 AND 80),
  variety TEXT CHECK (length(variety) BETWEEN 1 AND 80),
  lotNumber TEXT CHECK (length(lotNumber) BETWEEN 1 AND 80),
  origin TEXT CHECK (length(origin) BETWEEN 1 AND 80),
  seedClass TEXT CHECK (seedClass IN ('breeder', 'foundation', 'registered', 'certified', 'not certified')),
  pureSeed REAL CHECK (pureSeed BETWEEN 0 AND 1),
  otherCrop REAL CHECK (otherCrop BETWEEN 0 AND 1),
  inert REAL CHECK (inert BETWEEN 0 AND 1),
  weedSeed REAL CHECK (weedSeed BETWEEN 0 AND 1),
  noxiousKinds TEXT CHECK (length(noxiousKinds) <= 2000),
  noxiousPerPound REAL CHECK (noxiousPerPound >= 0),
  noxiousFound INTEGER CHECK (noxiousFound BETWEEN 0 AND 100000), -- in a sample of one's own
  noxiousSamplePounds REAL CHECK (noxiousSamplePounds > 0 AND noxiousSamplePounds <= 1000),
  germination REAL CHECK (germination BETWEEN 0 AND 1),
  hardSeed REAL CHECK (hardSeed BETWEEN 0 AND 1),
  testedIn TEXT CHECK (date(testedIn || '-01') IS testedIn || '-01'), -- month and year, as 2027-01
  isHermetic INTEGER NOT NULL DEFAULT 0 CHECK (isHermetic IN (0, 1)), -- sealed against moisture: a longer limit holds
  isTreated INTEGER NOT NULL DEFAULT 1 CHECK (isTreated IN (0, 1)),
  treatment TEXT CHECK (length(treatment) <= 2000),
  caution TEXT CHECK (length(caution) <= 2000),
  shipper TEXT CHECK (length(shipper) <= 2000), -- name and address, or the code that stands for them
  seedsPerPound REAL CHECK (seedsPerPound BETWEEN 200 AND 2000),
  netPounds REAL CHECK (netPounds BETWEEN 0 AND 10000000)
) STRICT;

CREATE TABLE tag_photo (
  id INTEGER PRIMARY KEY,
  lotId INTEGER NOT NULL REFERENCES lot ON DELETE CASCADE,
  fileName TEXT NOT NULL CHECK (length(fileName) BETWEEN 1 AND 255),
  mediaType TEXT NOT NULL CHECK (mediaType IN ('image/jpeg', 'image/png', 'application/pdf')),
  bytes BLOB NOT NULL CHECK (length(bytes) BETWEEN 1 AND 20000000),
  sha256 TEXT NOT NULL CHECK (length(sha256) = 64)
) STRICT;
CREATE INDEX tag_photo_lot ON tag_photo (lotId);

CREATE TABLE germination_test (
  id INTEGER PRIMARY KEY,
  lotId INTEGER NOT NULL REFERENCES lot ON DELETE CASCADE,
  testedOn TEXT NOT NULL CHECK (date(testedOn) IS testedOn),
  laboratory TEXT CHECK (length(laboratory) BETWEEN 1 AND 80), -- absent: tested at home
  germination REAL NOT NULL CHECK (germination BETWEEN 0 AND 1),
  hardSeed REAL CHECK (hardSeed BETWEEN 0 AND 1),
  note TEXT CHECK (length(note) <= 2000)
) STRICT;
CREATE INDEX germination_test_lot ON germination_test (lotId);

CREATE TABLE germination_replicate (
  id INTEGER PRIMARY KEY,
  germinationTestId INTEGER NOT NULL REFERENCES germination_test ON DELETE CASCADE,
  ordinal INTEGER NOT NULL CHECK (ordinal BETWEEN 1 AND 100),
  seeds INTEGER NOT NULL CHECK (seeds BETWEEN 1 AND 10000),
  sprouted INTEGER NOT NULL CHECK (sprouted BETWEEN 0 AND seeds), -- normal seedlings
  UNIQUE (germinationTestId, ordinal)
) STRICT;

CREATE TABLE lot_field (
  id INTEGER PRIMARY KEY,
  lotId INTEGER NOT NULL REFERENCES lot ON DELETE CASCADE,
  fieldSeasonId INTEGER NOT NULL REFERENCES field_season ON DELETE CASCADE,
  acres REAL NOT NULL CHECK (acres > 0 AND acres <= 100000),
  pounds REAL NOT NULL CHECK (pounds BETWEEN 0 AND 10000000),
  isLocked INTEGER NOT NULL DEFAULT 0 CHECK (isLocked IN (0, 1)),
  UNIQUE (lotId, fieldSeasonId)
) STRICT;
CREATE INDEX lot_field_field ON lot_field (fieldSeasonId);

-- What was found when the lots of a variety were placed: bound, reasons, and what they were placed from.
CREATE TABLE lot_placing (
  id INTEGER PRIMARY KEY,
  seasonId INTEGER NOT NULL REFERENCES season ON DELETE CASCADE,
  varietyId INTEGER NOT NULL REFERENCES variety ON DELETE CASCADE,
  result TEXT NOT NULL CHECK (json_valid(result)),
  dataHash TEXT NOT NULL CHECK (length(dataHash) = 64),
  UNIQUE (seasonId, varietyId)
) STRICT;
CREATE INDEX lot_placing_variety ON lot_placing (varietyId);

CREATE TABLE planting (
  id INTEGER PRIMARY KEY,
  fieldSeasonId INTEGER NOT NULL REFERENCES field_season ON DELETE RESTRICT,
  windowId INTEGER REFERENCES planting_window ON DELETE SET NULL,
  block TEXT CHECK (length(block) BETWEEN 1 AND 80), -- absent: the whole field
  isFinished INTEGER NOT NULL DEFAULT 0 CHECK (isFinished IN (0, 1)), -- an entry broken off in the truck is kept
  plantedOn TEXT CHECK (date(plantedOn) IS plantedOn),
  acres REAL CHECK (acres > 0 AND acres <= 100000),
  rowPattern TEXT CHECK (rowPattern IN ('single', 'twin')),
  rowSpacingIn REAL CHECK (rowSpacingIn BETWEEN 6 AND 120),
  seedsPerFoot REAL CHECK (seedsPerFoot BETWEEN 0.5 AND 30),
  depthIn REAL CHECK (depthIn BETWEEN 0 AND 12),
  soilTempF REAL CHECK (soilTempF BETWEEN 0 AND 150),
  operator TEXT CHECK (length(operator) BETWEEN 1 AND 80),
  note TEXT CHECK (length(note) <= 2000),
  CHECK (isFinished = 0 OR (plantedOn IS NOT NULL AND acres IS NOT NULL))
) STRICT;
CREATE INDEX planting_field ON planting (fieldSeasonId);
CREATE INDEX planting_window_used ON planting (windowId);

CREATE TABLE planting_lot (
  id INTEGER PRIMARY KEY,
  plantingId INTEGER NOT NULL REFERENCES planting ON DELETE CASCADE,
  lotId INTEGER NOT NULL REFERENCES lot ON DELETE RESTRICT,
  packs INTEGER CHECK (packs BETWEEN 0 AND 1000000),
  pounds REAL NOT NULL CHECK (pounds BETWEEN 0 AND 10000000),
  UNIQUE (plantingId, lotId)
) STRICT;
CREATE INDEX planting_lot_lot ON planting_lot (lotId);

CREATE TABLE planting_measure (
  id INTEGER PRIMARY KEY,
  plantingId INTEGER NOT NULL REFERENCES planting ON DELETE CASCADE,
  measureId INTEGER NOT NULL REFERENCES measure ON DELETE RESTRICT,
  UNIQUE (plantingId, measureId)
) STRICT;
CREATE INDEX planting_measure_measure ON planting_measure (measureId);

-- The Act has the records of a lot kept. The foreign key would refuse too; this one says why, and also holds
-- where a whole season or farm would take its lots along.
CREATE TRIGGER lot_planted_is_kept BEFORE DELETE ON lot
WHEN EXISTS (SELECT 1 FROM planting_lot WHERE lotId = old.id)
BEGIN
  SELECT raise(ABORT, 'a lot that was planted is kept');
END;

CREATE TABLE stand_count (
  id INTEGER PRIMARY KEY,
  plantingId INTEGER NOT NULL REFERENCES planting ON DELETE CASCADE,
  countedOn TEXT NOT NULL CHECK (date(countedOn) IS countedOn),
  note TEXT CHECK (length(note) <= 2000)
) STRICT;
CREATE INDEX stand_count_planting ON stand_count (plantingId);

CREATE TABLE stand_spot (
  id INTEGER PRIMARY KEY,
  standCountId INTEGER NOT NULL REFERENCES stand_count ON DELETE CASCADE,
  ordinal INTEGER NOT NULL CHECK (ordinal BETWEEN 1 AND 1000),
  feet REAL NOT NULL CHECK (feet > 0 AND feet <= 1000), -- of row
  plants INTEGER NOT NULL CHECK (plants BETWEEN 0 AND 100000),
  UNIQUE (standCountId, ordinal)
) STRICT;
