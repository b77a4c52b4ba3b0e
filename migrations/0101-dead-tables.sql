-- What was written and never read: whole programs beside the measures of each plan, the blocks of a plan beside the plan itself,
-- a plan's figures beside its proof, and whether a row of the book was changed by hand, which all rows of the farm's own are.

DROP TABLE programme_measure;
DROP TABLE programme;
DROP TABLE plan_block;
ALTER TABLE assumption DROP COLUMN isChangedByUser;
ALTER TABLE plan DROP COLUMN status;
ALTER TABLE plan DROP COLUMN costCents;
ALTER TABLE plan DROP COLUMN boundCents;
ALTER TABLE plan DROP COLUMN gap;
