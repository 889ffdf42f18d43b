-- One table for the rows of every table, so that all of them have the same
-- history. The state at revision N is, for each table and id, its newest entry
-- that is not newer than N and not removed.
--
-- cells is a JSON object with a text for each column that is not empty: a
-- column that a later version adds is empty in rows that were written before.
-- shipped marks what came with the program: from it an upgrade knows which rows
-- the user changed.

-- +goose Up
CREATE TABLE entry (
    in_table TEXT NOT NULL,
    id TEXT NOT NULL,
    revision INTEGER NOT NULL REFERENCES revision (number),
    removed INTEGER NOT NULL DEFAULT 0,
    shipped INTEGER NOT NULL DEFAULT 0,
    cells TEXT NOT NULL,
    PRIMARY KEY (in_table, id, revision)
);

CREATE INDEX entry_by_revision ON entry (revision);

INSERT INTO entry (in_table, id, revision, removed, shipped, cells)
SELECT 'limits', "id", revision, removed, CASE WHEN revision = 1 THEN 1 ELSE 0 END, json_object(
    'id', "id", 'jurisdiction', "jurisdiction", 'kind', "kind", 'combination', "combination", 'quantity', "quantity",
    'axles', "axles", 'published', "published", 'threshold', "threshold", 'beyond', "beyond", 'outcome', "outcome",
    'tier', "tier", 'permit', "permit", 'escorts_any', "escorts_any", 'escorts_front', "escorts_front",
    'escorts_rear', "escorts_rear", 'height_pole', "height_pole", 'survey', "survey", 'hours', "hours", 'when', "when",
    'road', "road", 'condition', "condition", 'note', "note", 'valid_from', "valid_from", 'valid_to', "valid_to",
    'supersedes', "supersedes", 'status', "status", 'source', "source", 'section', "section",
    'source_year', "source_year", 'source_url', "source_url", 'read_on', "read_on")
FROM limit_row;

INSERT INTO entry (in_table, id, revision, removed, shipped, cells)
SELECT 'offices', replace(replace(lower(jurisdiction), '/', '-'), ' ', '-') || '-office', revision, removed, 1, json_object(
    'id', replace(replace(lower(jurisdiction), '/', '-'), ' ', '-') || '-office', 'jurisdiction', jurisdiction, 'name', name, 'contact', contact,
    'status', 'published', 'source', source)
FROM authority;

DROP TABLE authority;
DROP TABLE limit_row;

