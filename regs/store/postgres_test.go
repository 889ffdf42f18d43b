//go:build unix

package store

import (
	"database/sql"
	"fmt"
	"os"
	"os/exec"
	"os/user"
	"path/filepath"
	"strconv"
	"sync/atomic"
	"syscall"
	"testing"

	"wayhouse/testdata/needs"
)

// The one suite passes on PostgreSQL too.
func TestPostgreSQL(t *testing.T) {
	needs.Require(t, needs.PostgreSQL)
	socket := cluster(t)
	var n atomic.Int64
	suite(t, func(t *testing.T) *Store {
		name := fmt.Sprintf("tables%d", n.Add(1))
		admin, err := sql.Open("pgx", dsn(socket, "postgres"))
		if err != nil {
			t.Fatal(err)
		}
		defer admin.Close()
		if _, err := admin.ExecContext(t.Context(), "CREATE DATABASE "+name); err != nil {
			t.Fatal(err)
		}
		s, err := open(t.Context(), postgres, name, dsn(socket, name), clock)
		return opened(t, s, err)
	})
}

func dsn(socket, database string) string {
	return fmt.Sprintf("host=%s user=postgres dbname=%s sslmode=disable", socket, database)
}

// cluster starts a throwaway server that listens on a socket in its folder
// only, and returns the folder.
func cluster(t *testing.T) string {
	t.Helper()
	dir, err := os.MkdirTemp("", "wayhouse-pg-")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { os.RemoveAll(dir) })
	as := unprivileged(t, dir)
	data := filepath.Join(dir, "data")
	run(t, as, "initdb", "-D", data, "-U", "postgres", "-A", "trust", "--locale=C", "-E", "UTF8", "-N")
	t.Cleanup(func() { run(t, as, "pg_ctl", "-D", data, "-m", "immediate", "-w", "stop") })
	run(t, as, "pg_ctl", "-D", data, "-l", filepath.Join(dir, "log"), "-w",
		"-o", fmt.Sprintf("-k %s -c listen_addresses='' -c fsync=off", dir), "start")
	return dir
}

// unprivileged returns whom to run the server as: it refuses root.
func unprivileged(t *testing.T, dir string) *syscall.Credential {
	t.Helper()
	if os.Geteuid() != 0 {
		return nil
	}
	u, err := user.Lookup("postgres")
	if err != nil {
		t.Fatalf("root needs the user postgres to run a server as: %v", err)
	}
	uid, errUID := strconv.Atoi(u.Uid)
	gid, errGID := strconv.Atoi(u.Gid)
	if errUID != nil || errGID != nil {
		t.Fatal(errUID, errGID)
	}
	if err := os.Chown(dir, uid, gid); err != nil {
		t.Fatal(err)
	}
	return &syscall.Credential{Uid: uint32(uid), Gid: uint32(gid)}
}

func run(t *testing.T, as *syscall.Credential, name string, args ...string) {
	t.Helper()
	c := exec.Command(name, args...)
	c.Dir = os.TempDir()
	c.SysProcAttr = &syscall.SysProcAttr{Credential: as}
	if out, err := c.CombinedOutput(); err != nil {
		t.Errorf("%s: %v\n%s", name, err, out)
	}
}

// More requests than connections wait for one, a lock that somebody keeps makes the
// tables busy, and a server that went away is told as such, soon.
func TestPostgreSQLInTrouble(t *testing.T) {
	needs.Require(t, needs.PostgreSQL)
	socket := cluster(t)
	s, err := open(t.Context(), postgres, "tables", dsn(socket, "postgres")+" lock_timeout=100", clock)
	opened(t, s, err)
	together(t, 4*connections, func(int) error {
		_, err := s.History(t.Context())
		return err
	})
	if n := s.db.Stats().OpenConnections; n > connections {
		t.Errorf("%d connections, want %d at the most", n, connections)
	}

	hold, err := s.db.BeginTx(t.Context(), nil)
	if err != nil {
		t.Fatal(err)
	}
	if err := s.lock(t.Context(), hold); err != nil {
		t.Fatal(err)
	}
	change := []Edit{edit(t, 1, "ca-on-height-01", map[string]string{"note": "later"})}
	if _, err := s.Change(t.Context(), "a user", "a letter came", change); trouble(err) != Busy {
		t.Errorf("a lock that another keeps: %v", err)
	}
	hold.Rollback()
	made(t, s, change...)

	run(t, unprivileged(t, socket), "pg_ctl", "-D", filepath.Join(socket, "data"), "-m", "immediate", "-w", "stop")
	t.Cleanup(func() {
		run(t, unprivileged(t, socket), "pg_ctl", "-D", filepath.Join(socket, "data"), "-l", filepath.Join(socket, "log"), "-w", "-o", fmt.Sprintf("-k %s -c listen_addresses=''", socket), "start")
	}) // the cluster stops it once more
	for range 2 {
		if _, err := s.History(t.Context()); trouble(err) != Away {
			t.Errorf("a server that is gone: %v", err)
		}
	}
	if err := s.Ping(t.Context()); trouble(err) != Away {
		t.Errorf("its ping: %v", err)
	}
}
