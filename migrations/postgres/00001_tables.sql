-- Every change is a new revision; no row is overwritten. The state at revision
-- N is, for each id, its newest row that is not newer than N and not removed.
-- Columns of limit_row are those of data/tables/limits.csv, as text, so that a
-- published figure stays as it was printed.

-- +goose Up
CREATE TABLE revision (
    number INTEGER PRIMARY KEY,
    made_at TEXT NOT NULL,
    who TEXT NOT NULL,
    why TEXT NOT NULL
);

CREATE TABLE limit_row (
    "id" TEXT NOT NULL,
    "jurisdiction" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "combination" TEXT NOT NULL,
    "quantity" TEXT NOT NULL,
    "axles" TEXT NOT NULL,
    "published" TEXT NOT NULL,
    "threshold" TEXT NOT NULL,
    "beyond" TEXT NOT NULL,
    "outcome" TEXT NOT NULL,
    "tier" TEXT NOT NULL,
    "permit" TEXT NOT NULL,
    "escorts_any" TEXT NOT NULL,
    "escorts_front" TEXT NOT NULL,
    "escorts_rear" TEXT NOT NULL,
    "height_pole" TEXT NOT NULL,
    "survey" TEXT NOT NULL,
    "hours" TEXT NOT NULL,
    "when" TEXT NOT NULL,
    "road" TEXT NOT NULL,
    "condition" TEXT NOT NULL,
    "note" TEXT NOT NULL,
    "valid_from" TEXT NOT NULL,
    "valid_to" TEXT NOT NULL,
    "supersedes" TEXT NOT NULL,
    "status" TEXT NOT NULL,
    "source" TEXT NOT NULL,
    "section" TEXT NOT NULL,
    "source_year" TEXT NOT NULL,
    "source_url" TEXT NOT NULL,
    "read_on" TEXT NOT NULL,
    revision INTEGER NOT NULL REFERENCES revision (number),
    removed INTEGER NOT NULL DEFAULT 0,
    PRIMARY KEY ("id", revision)
);

CREATE TABLE authority (
    jurisdiction TEXT NOT NULL,
    name TEXT NOT NULL,
    contact TEXT NOT NULL,
    source TEXT NOT NULL,
    revision INTEGER NOT NULL REFERENCES revision (number),
    removed INTEGER NOT NULL DEFAULT 0,
    PRIMARY KEY (jurisdiction, revision)
);

-- +goose Down
DROP TABLE authority;
DROP TABLE limit_row;
DROP TABLE revision;
