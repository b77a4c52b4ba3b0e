-- The season that a plan was made from, once for all plans of the same data: drafts and repeated solves kept it again and again.

CREATE TABLE plan_input (
  id INTEGER PRIMARY KEY,
  hash TEXT NOT NULL UNIQUE CHECK (length(hash) = 64), -- SHA-256 of the season as gathered
  season TEXT NOT NULL CHECK (json_valid(season))
) STRICT;
INSERT OR IGNORE INTO plan_input (hash, season) SELECT inputHash, input FROM plan;
ALTER TABLE plan DROP COLUMN input;
