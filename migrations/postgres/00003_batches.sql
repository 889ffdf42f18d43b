-- A revision becomes true when it gets its number. Until then its entries are a
-- batch that nobody reads: a large change is written in many short transactions,
-- and one short one makes all of it true or none. The batch of a revision that was
-- made before is its number.

-- +goose Up
ALTER TABLE revision RENAME COLUMN number TO batch;
ALTER TABLE revision ADD COLUMN number INTEGER;
UPDATE revision SET number = batch;
CREATE UNIQUE INDEX revision_by_number ON revision (number);

ALTER TABLE entry RENAME COLUMN revision TO batch;

-- What readers see.
CREATE VIEW kept AS
SELECT entry.in_table, entry.id, revision.number AS revision, entry.removed, entry.shipped, entry.cells
FROM entry JOIN revision ON revision.batch = entry.batch
WHERE revision.number IS NOT NULL;
