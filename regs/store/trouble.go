package store

import (
	"context"
	"database/sql/driver"
	"errors"
	"fmt"
	"io"
	"net"
	"time"

	"github.com/jackc/pgx/v5/pgconn"
	lite "modernc.org/sqlite"

	"wayhouse/regs/say"
)

// Trouble is what keeps a database from answering while nothing is wrong with the
// question.
type Trouble string

// The troubles.
const (
	Full Trouble = "full"             // no room is left to write in
	Busy Trouble = "busy"             // others had it for longer than a request waits
	Away Trouble = "out of reach"     // it cannot be reached, or takes no writes
	Slow Trouble = "not done in time" // it did not answer within its limit
)

// TroubleError is a [Trouble] with its cause, which may name hosts and files.
type TroubleError struct {
	Trouble Trouble
	cause   error
}

func (e *TroubleError) Error() string {
	return fmt.Sprintf("the database is %s: %v", e.Trouble, e.cause)
}

// Remark is what a user is told, without the cause.
func (e *TroubleError) Remark() say.Remark {
	return map[Trouble]say.Remark{
		Full: say.That("problem.full"), Busy: say.That("problem.busy"), Away: say.That("problem.away"),
		Slow: say.That("problem.slow"),
	}[e.Trouble]
}

func (e *TroubleError) Unwrap() error { return e.cause }

// Again is how long to wait before asking again.
func (e *TroubleError) Again() time.Duration {
	switch e.Trouble {
	case Full:
		return 5 * time.Minute
	case Busy:
		return 2 * time.Second
	default:
		return 10 * time.Second
	}
}

// troubled says what trouble an error of the database is; other errors stay as they
// are. asked is the context of the caller: one that ended is no trouble.
func troubled(asked context.Context, err error) error {
	var known *TroubleError
	if err == nil || asked.Err() != nil || errors.As(err, &known) {
		return err
	}
	if t := troubleOf(err); t != "" {
		return &TroubleError{t, err}
	}
	return err
}

func troubleOf(err error) Trouble {
	var inFile *lite.Error
	var post *pgconn.PgError
	var connect *pgconn.ConnectError
	var dial net.Error
	switch {
	case errors.As(err, &inFile):
		return liteTroubles[inFile.Code()&0xff] // the rest of an extended code says more of the same
	case errors.As(err, &post):
		return postTrouble(post.Code)
	case errors.Is(err, context.DeadlineExceeded):
		return Slow
	case errors.As(err, &connect), errors.As(err, &dial), errors.Is(err, driver.ErrBadConn), errors.Is(err, io.EOF),
		errors.Is(err, io.ErrUnexpectedEOF), errors.Is(err, net.ErrClosed), pgconn.SafeToRetry(err):
		return Away
	default:
		return ""
	}
}

// liteTroubles are by result code of SQLite (sqlite.org/rescode.html).
var liteTroubles = map[int]Trouble{
	5:  Busy, // SQLITE_BUSY
	6:  Busy, // SQLITE_LOCKED
	8:  Away, // SQLITE_READONLY
	9:  Slow, // SQLITE_INTERRUPT
	10: Away, // SQLITE_IOERR
	13: Full, // SQLITE_FULL
	14: Away, // SQLITE_CANTOPEN
}

// postTrouble is by SQLSTATE (PostgreSQL 17 documentation, appendix A).
func postTrouble(code string) Trouble {
	switch {
	case code == "53100": // disk_full
		return Full
	case code == "57014": // query_canceled, by its limit
		return Slow
	case code == "55P03", code == "40001", code == "40P01": // lock_not_available, serialization_failure, deadlock_detected
		return Busy
	case code[:min(2, len(code))] == "53": // insufficient resources, such as too_many_connections
		return Busy
	// read_only_sql_transaction, operator intervention, connection exceptions
	case code == "25006", code[:min(2, len(code))] == "57", code[:min(2, len(code))] == "08":
		return Away
	default:
		return ""
	}
}
