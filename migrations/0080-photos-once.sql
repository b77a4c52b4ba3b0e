-- Bytes of pictures once, by what they are. The undo record names them by hash and never holds them; what nothing names goes when the
-- farm is closed. Undo steps know their size, so that a limit in bytes costs no reading.

CREATE TABLE photo_content (
  id INTEGER PRIMARY KEY,
  sha256 TEXT NOT NULL UNIQUE CHECK (length(sha256) = 64),
  bytes BLOB NOT NULL CHECK (length(bytes) BETWEEN 1 AND 20000000)
) STRICT;
INSERT INTO photo_content (sha256, bytes) SELECT sha256, max(bytes) FROM tag_photo GROUP BY sha256;

ALTER TABLE tag_photo ADD COLUMN size INTEGER NOT NULL DEFAULT 1 CHECK (size BETWEEN 1 AND 20000000); -- [byte]
UPDATE tag_photo SET size = length(bytes);
ALTER TABLE tag_photo DROP COLUMN bytes;
CREATE INDEX tag_photo_content ON tag_photo (sha256);

ALTER TABLE undo_step ADD COLUMN size INTEGER NOT NULL DEFAULT 0 CHECK (size >= 0); -- [byte] of its changes
