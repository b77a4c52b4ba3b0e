-- Drafts, the plans solved in them, and the orders sent to dealers. Plans are results: they are kept, never undone.
-- An undoable table therefore holds no foreign key to a plan; purchase_order.planId is a plain number, and the
-- keys of plans are never used twice.

CREATE TABLE draft (
  id INTEGER PRIMARY KEY,
  seasonId INTEGER NOT NULL REFERENCES season ON DELETE CASCADE,
  name TEXT NOT NULL COLLATE NOCASE CHECK (name = trim(name) AND length(name) BETWEEN 1 AND 80),
  settings TEXT NOT NULL DEFAULT '{}' CHECK (json_valid(settings)),
  createdAt TEXT NOT NULL CHECK (strftime('%Y-%m-%dT%H:%M:%fZ', createdAt) IS createdAt),
  UNIQUE (seasonId, name)
) STRICT;

CREATE TABLE draft_rule_off (
  id INTEGER PRIMARY KEY,
  draftId INTEGER NOT NULL REFERENCES draft ON DELETE CASCADE,
  houseRuleId INTEGER NOT NULL REFERENCES house_rule ON DELETE CASCADE,
  UNIQUE (draftId, houseRuleId)
) STRICT;
CREATE INDEX draft_rule_off_rule ON draft_rule_off (houseRuleId);

CREATE TABLE plan (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  seasonId INTEGER NOT NULL REFERENCES season ON DELETE CASCADE,
  draftId INTEGER REFERENCES draft ON DELETE CASCADE, -- absent: made from the season as it stands
  fromDraft TEXT, -- name of the draft it was adopted from
  madeAt TEXT NOT NULL CHECK (strftime('%Y-%m-%dT%H:%M:%fZ', madeAt) IS madeAt),
  status TEXT NOT NULL CHECK (status IN ('proven', 'within', 'stopped', 'nothing-found', 'nothing-fits')),
  costCents INTEGER,
  boundCents INTEGER,
  gap REAL CHECK (gap >= 0),
  proof TEXT NOT NULL CHECK (json_valid(proof)),
  plan TEXT CHECK (json_valid(plan)),
  reasons TEXT CHECK (json_valid(reasons)),
  input TEXT NOT NULL CHECK (json_valid(input)),
  inputHash TEXT NOT NULL CHECK (length(inputHash) = 64)
) STRICT;
CREATE INDEX plan_season ON plan (seasonId);
CREATE INDEX plan_draft ON plan (draftId);

CREATE TABLE plan_block (
  id INTEGER PRIMARY KEY,
  planId INTEGER NOT NULL REFERENCES plan ON DELETE CASCADE,
  fieldSeasonId INTEGER REFERENCES field_season ON DELETE SET NULL,
  varietyId INTEGER REFERENCES variety ON DELETE SET NULL,
  windowId INTEGER REFERENCES planting_window ON DELETE SET NULL,
  field TEXT NOT NULL, -- names as they were when the plan was made
  variety TEXT NOT NULL,
  window TEXT NOT NULL,
  programme TEXT NOT NULL CHECK (json_valid(programme)),
  acres REAL NOT NULL CHECK (acres > 0),
  poundsPerAcre REAL NOT NULL CHECK (poundsPerAcre >= 0),
  pounds REAL NOT NULL CHECK (pounds >= 0),
  cashCents INTEGER NOT NULL,
  lossCents INTEGER NOT NULL,
  vineCents INTEGER NOT NULL,
  giveUpCents INTEGER NOT NULL
) STRICT;
CREATE INDEX plan_block_plan ON plan_block (planId);
CREATE INDEX plan_block_field ON plan_block (fieldSeasonId);
CREATE INDEX plan_block_variety ON plan_block (varietyId);
CREATE INDEX plan_block_window ON plan_block (windowId);

CREATE TABLE plan_purchase (
  id INTEGER PRIMARY KEY,
  planId INTEGER NOT NULL REFERENCES plan ON DELETE CASCADE,
  quoteId INTEGER REFERENCES quote ON DELETE SET NULL,
  quote TEXT NOT NULL,
  dealer TEXT NOT NULL,
  variety TEXT NOT NULL,
  packs INTEGER NOT NULL CHECK (packs >= 0),
  packPounds REAL NOT NULL CHECK (packPounds > 0),
  packPriceCents INTEGER NOT NULL CHECK (packPriceCents >= 0),
  fromPacks INTEGER NOT NULL CHECK (fromPacks >= 0),
  pounds REAL NOT NULL CHECK (pounds >= 0),
  cents INTEGER NOT NULL
) STRICT;
CREATE INDEX plan_purchase_plan ON plan_purchase (planId);
CREATE INDEX plan_purchase_quote ON plan_purchase (quoteId);

-- Terms are the dealer's and the quote's as the plan knew them: an order stays what it was when a quote changes.
CREATE TABLE purchase_order (
  id INTEGER PRIMARY KEY,
  seasonId INTEGER NOT NULL REFERENCES season ON DELETE CASCADE,
  dealerId INTEGER NOT NULL REFERENCES dealer ON DELETE RESTRICT,
  planId INTEGER, -- no foreign key: see above
  madeOn TEXT NOT NULL CHECK (date(madeOn) IS madeOn),
  terms TEXT NOT NULL CHECK (json_valid(terms)),
  number TEXT CHECK (length(number) BETWEEN 1 AND 80),
  note TEXT CHECK (length(note) <= 2000),
  UNIQUE (seasonId, dealerId)
) STRICT;
CREATE INDEX purchase_order_dealer ON purchase_order (dealerId);

CREATE TABLE order_line (
  id INTEGER PRIMARY KEY,
  purchaseOrderId INTEGER NOT NULL REFERENCES purchase_order ON DELETE CASCADE,
  quoteId INTEGER REFERENCES quote ON DELETE SET NULL,
  varietyId INTEGER NOT NULL REFERENCES variety ON DELETE RESTRICT,
  quote TEXT NOT NULL, -- title as it was when the order was made
  state TEXT NOT NULL DEFAULT 'to order' CHECK (state IN ('to order', 'ordered', 'confirmed', 'changed', 'refused')),
  packs INTEGER NOT NULL CHECK (packs BETWEEN 1 AND 1000000), -- as planned
  packPounds REAL NOT NULL CHECK (packPounds BETWEEN 1 AND 10000),
  packPriceCents INTEGER NOT NULL CHECK (packPriceCents BETWEEN 0 AND 10000000000), -- after the break reached
  terms TEXT NOT NULL CHECK (json_valid(terms)),
  sentOn TEXT CHECK (date(sentOn) IS sentOn),
  answeredOn TEXT CHECK (date(answeredOn) IS answeredOn),
  confirmedPacks INTEGER CHECK (confirmedPacks BETWEEN 0 AND 1000000), -- as the dealer agreed
  confirmedPriceCents INTEGER CHECK (confirmedPriceCents BETWEEN 0 AND 10000000000),
  note TEXT CHECK (length(note) <= 2000),
  CHECK ((answeredOn IS NULL) = (state IN ('to order', 'ordered'))),
  CHECK ((confirmedPacks IS NULL) = (answeredOn IS NULL))
) STRICT;
CREATE INDEX order_line_order ON order_line (purchaseOrderId);
CREATE INDEX order_line_quote ON order_line (quoteId);
CREATE INDEX order_line_variety ON order_line (varietyId);
