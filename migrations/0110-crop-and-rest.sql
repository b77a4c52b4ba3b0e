-- Ground that rests, what it brings otherwise, yield on dryland; rules that the crop's own arithmetic took the place of.

ALTER TABLE field_season ADD COLUMN otherCents INTEGER CHECK (otherCents BETWEEN 0 AND 10000000); -- cents an acre
ALTER TABLE field_season ADD COLUMN rests INTEGER NOT NULL DEFAULT 0 CHECK (rests IN (0, 1));
-- What a nematode count is of, and when it was taken: a count of southern root-knot says nothing of peanut.
ALTER TABLE field_season ADD COLUMN nematodeSpecies TEXT CHECK (nematodeSpecies IN ('peanut root-knot', 'southern root-knot', 'other'));
ALTER TABLE field_season ADD COLUMN sampledOn TEXT CHECK (sampledOn IS date(sampledOn));
ALTER TABLE variety ADD COLUMN yieldIndexDryland REAL CHECK (yieldIndexDryland BETWEEN 0.3 AND 2); -- absent: as yieldIndex
-- Pounds an acre that a practice adds: on ground with peanut in its history, and on ground new to peanut.
ALTER TABLE measure ADD COLUMN gainLb REAL CHECK (gainLb BETWEEN 0 AND 5000);
ALTER TABLE measure ADD COLUMN gainNewLb REAL CHECK (gainNewLb BETWEEN 0 AND 5000); -- absent: as gainLb
-- Yield counts unless a rule leaves it out; it used to count only where a rule said so.
DELETE FROM house_rule WHERE rule = 'count-give-up';
-- The amount was a price for leaving an acre out; now it is what the acre brings otherwise, which nobody has said.
UPDATE house_rule SET rule = 'may-rest', amount = 0 WHERE rule = 'leave-out';
