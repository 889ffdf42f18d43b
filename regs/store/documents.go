package store

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"time"

	"wayhouse/regs/say"
)

// Document is a version of what users keep beside the tables: JSON under a name. What is in
// it the store does not know.
type Document struct {
	Kind, ID string
	Version  int // from 1
	MadeAt   time.Time
	Who, Why string
	Body     json.RawMessage
}

// NoDocumentError says that there is no document of a name, or no such version of it.
type NoDocumentError struct {
	Kind, ID string
	Version  int // 0: none at all
}

func (e *NoDocumentError) Error() string { return e.Remark().String() }

// Remark names it.
func (e *NoDocumentError) Remark() say.Remark {
	return say.That("problem.no_document", "kind", e.Kind, "id", e.ID, "version", e.Version)
}

// StaleDocumentError says that somebody else wrote a version of a document first.
type StaleDocumentError struct {
	Kind, ID string
	Was, Is  int // versions; 0: there is none
}

func (e *StaleDocumentError) Error() string { return e.Remark().String() }

// Remark says which version is the newest.
func (e *StaleDocumentError) Remark() say.Remark {
	return say.That("problem.stale_document", "kind", e.Kind, "id", e.ID, "is", e.Is)
}

// KeepDocument writes the next version of a document: was is the newest so far, 0 where
// there is none. Where another was written since, the error is a [*StaleDocumentError].
func (s *Store) KeepDocument(ctx context.Context, d Document, was int) (Document, error) {
	err := s.inTx(ctx, func(ctx context.Context, tx *sql.Tx) error {
		if err := s.lock(ctx, tx); err != nil {
			return err
		}
		var is int
		if err := tx.QueryRowContext(ctx, `SELECT coalesce(max(version), 0) FROM document WHERE kind = $1 AND id = $2`,
			d.Kind, d.ID).Scan(&is); err != nil {
			return err
		}
		if is != was {
			return &StaleDocumentError{d.Kind, d.ID, was, is}
		}
		d.Version, d.MadeAt = was+1, s.clock().UTC().Truncate(time.Second)
		_, err := tx.ExecContext(ctx, `INSERT INTO document (kind, id, version, made_at, who, why, body)
			VALUES ($1, $2, $3, $4, $5, $6, $7)`, d.Kind, d.ID, d.Version, d.MadeAt.Format(time.RFC3339), d.Who, d.Why,
			string(d.Body))
		return err
	})
	if err != nil {
		return Document{}, fmt.Errorf("store %s: %w", s.name, err)
	}
	return d, nil
}

// Document returns a version of a document, 0 for the newest. The error is a [*NoDocumentError]
// where there is none.
func (s *Store) Document(ctx context.Context, kind, id string, version int) (out Document, err error) {
	err = s.documents(ctx, func(d Document) { out = d },
		`kind = $1 AND id = $2 AND ($3 = 0 OR version = $3) ORDER BY version DESC LIMIT 1`, kind, id, version)
	if err == nil && out.Version == 0 {
		err = &NoDocumentError{kind, id, version}
	}
	return out, err
}

// Documents lists the newest version of every document of a kind, by id.
func (s *Store) Documents(ctx context.Context, kind string) (out []Document, err error) {
	err = s.documents(ctx, func(d Document) { out = append(out, d) }, `kind = $1 AND version = (
		SELECT max(version) FROM document newest WHERE newest.kind = document.kind AND newest.id = document.id)
		ORDER BY id`, kind)
	return out, err
}

// DocumentVersions lists the versions of a document, the newest first. The error is a
// [*NoDocumentError] where there is none.
func (s *Store) DocumentVersions(ctx context.Context, kind, id string) (out []Document, err error) {
	err = s.documents(ctx, func(d Document) { out = append(out, d) },
		`kind = $1 AND id = $2 ORDER BY version DESC`, kind, id)
	if err == nil && len(out) == 0 {
		err = &NoDocumentError{Kind: kind, ID: id}
	}
	return out, err
}

func (s *Store) documents(ctx context.Context, each func(Document), where string, args ...any) error {
	err := s.read(ctx, func(ctx context.Context, tx *sql.Tx) error {
		q, err := tx.QueryContext(ctx, `SELECT kind, id, version, made_at, who, why, body FROM document WHERE `+where,
			args...)
		if err != nil {
			return err
		}
		defer q.Close()
		for q.Next() {
			var d Document
			var at, body string
			if err := q.Scan(&d.Kind, &d.ID, &d.Version, &at, &d.Who, &d.Why, &body); err != nil {
				return err
			}
			if d.MadeAt, err = time.Parse(time.RFC3339, at); err != nil {
				return fmt.Errorf("%s %q, version %d: %w", d.Kind, d.ID, d.Version, err)
			}
			if !json.Valid([]byte(body)) {
				return fmt.Errorf("%s %q, version %d: %w", d.Kind, d.ID, d.Version, errors.New("is no JSON"))
			}
			d.Body = json.RawMessage(body)
			each(d)
		}
		return q.Err()
	})
	if err != nil {
		return fmt.Errorf("store %s: %w", s.name, err)
	}
	return nil
}
