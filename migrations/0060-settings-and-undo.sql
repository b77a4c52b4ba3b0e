-- Settings that belong to the file, and the record by which edits are taken back. Neither is itself undoable.

CREATE TABLE setting (
  id INTEGER PRIMARY KEY,
  key TEXT NOT NULL UNIQUE CHECK (length(key) BETWEEN 1 AND 80),
  value TEXT NOT NULL CHECK (json_valid(value))
) STRICT;

CREATE TABLE undo_step (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  label TEXT NOT NULL CHECK (length(label) BETWEEN 1 AND 80),
  madeAt TEXT NOT NULL CHECK (strftime('%Y-%m-%dT%H:%M:%fZ', madeAt) IS madeAt),
  isUndone INTEGER NOT NULL DEFAULT 0 CHECK (isUndone IN (0, 1)) -- 1: waits to be done again
) STRICT;

-- Values, never SQL: a file from a stranger must not bring statements that "undo" would run.
CREATE TABLE undo_change (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  undoStepId INTEGER NOT NULL REFERENCES undo_step ON DELETE CASCADE,
  tableName TEXT NOT NULL,
  rowId INTEGER NOT NULL,
  before TEXT CHECK (json_valid(before)), -- the row's values by column; absent: there was no row
  after TEXT CHECK (json_valid(after)), -- absent: there is no row any more
  CHECK (coalesce(before, after) IS NOT NULL)
) STRICT;
CREATE INDEX undo_change_step ON undo_change (undoStepId);
