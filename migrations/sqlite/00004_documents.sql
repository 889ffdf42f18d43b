-- What users keep beside the tables, such as trips: JSON under a name. A change is a
-- new version; nothing is overwritten and nothing is removed.

-- +goose Up
CREATE TABLE document (
    kind TEXT NOT NULL,
    id TEXT NOT NULL,
    version INTEGER NOT NULL,
    made_at TEXT NOT NULL,
    who TEXT NOT NULL,
    why TEXT NOT NULL,
    body TEXT NOT NULL,
    PRIMARY KEY (kind, id, version)
);

-- +goose Down
DROP TABLE document;
