-- Which farm a file is, so that a journal, a seal or a backup of another is never taken for its own. Not undoable.

CREATE TABLE file_mark (
  id INTEGER PRIMARY KEY CHECK (id = 1),
  farmId TEXT NOT NULL CHECK (farmId GLOB 'farm-*' AND length(farmId) = 37), -- the same in every copy of the farm
  -- Anew at each opening and after each checkpoint: a journal begins with the mark that follows its file's.
  mark TEXT NOT NULL CHECK (length(mark) = 16),
  markBefore TEXT NOT NULL CHECK (length(markBefore) = 16)
) STRICT;

-- A farm of before has been copied and backed up without an id: made from the moment of its making, it is the same in all.
INSERT INTO file_mark (id, farmId, mark, markBefore)
VALUES (
  1,
  'farm-' || coalesce(
    (
      SELECT substr(
        replace(replace(replace(replace(replace(createdAt, '-', ''), ':', ''), 'T', ''), 'Z', ''), '.', '')
          || '000000000000000', 1, 32)
      FROM farm
    ),
    lower(hex(randomblob(16)))
  ),
  lower(hex(randomblob(8))),
  lower(hex(randomblob(8)))
);
