-- Weeks in the place of days by window; machines with their rows and the days they are there; a lock on a planting week.

CREATE TABLE season_week (
  id INTEGER PRIMARY KEY,
  seasonId INTEGER NOT NULL REFERENCES season ON DELETE CASCADE,
  starts TEXT NOT NULL CHECK (date('2024-' || starts) IS '2024-' || starts), -- a day of the week, as 05-04
  plantingDays REAL CHECK (plantingDays BETWEEN 0 AND 7), -- absent: as the assumptions have it
  diggingDays REAL CHECK (diggingDays BETWEEN 0 AND 7),
  combiningDays REAL CHECK (combiningDays BETWEEN 0 AND 7),
  note TEXT CHECK (length(note) <= 2000)
) STRICT;
CREATE INDEX season_week_season ON season_week (seasonId);

-- A window's days fit for planting go to its weeks evenly, by the days that each shares with it.
INSERT INTO season_week (seasonId, starts, plantingDays)
WITH RECURSIVE day (seasonId, at, last, fit) AS (
  SELECT w.seasonId, s.year || '-' || w.opens, s.year || '-' || max(w.opens, w.closes),
    w.fitDays / (julianday(s.year || '-' || max(w.opens, w.closes)) - julianday(s.year || '-' || w.opens) + 1)
  FROM planting_window w JOIN season s ON s.id = w.seasonId
  WHERE julianday(s.year || '-' || w.opens) IS NOT NULL
  UNION ALL
  SELECT seasonId, date(at, '+1 day'), last, fit FROM day WHERE at < last
)
SELECT seasonId, substr(date(at, 'weekday 0', '-6 days'), 6), min(7, round(sum(fit), 1))
FROM day GROUP BY seasonId, date(at, 'weekday 0', '-6 days') ORDER BY seasonId, min(at);

ALTER TABLE planting_window DROP COLUMN fitDays;

ALTER TABLE machine ADD COLUMN rows INTEGER CHECK (rows BETWEEN 1 AND 48);
ALTER TABLE machine ADD COLUMN availableFrom TEXT CHECK (date('2024-' || availableFrom) IS '2024-' || availableFrom);
ALTER TABLE machine ADD COLUMN availableUntil TEXT CHECK (date('2024-' || availableUntil) IS '2024-' || availableUntil);

-- Monday of the planting week that a field is kept in, ISO date, and at least how many of its acres; absent: all.
ALTER TABLE field_lock ADD COLUMN week TEXT CHECK (week IS date(week));
ALTER TABLE field_lock ADD COLUMN acres REAL CHECK (acres BETWEEN 0.01 AND 1000000);
