package network_test

import (
	"context"
	"encoding/binary"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"wayhouse/routing/network"
)

// sealed saves a verified network and stamps the file.
func sealed(t testing.TB, n *network.Network) (path string) {
	t.Helper()
	path = filepath.Join(t.TempDir(), "roads.wayroads")
	if err := errors.Join(verify(n), n.Save(context.Background(), path)); err != nil {
		t.Fatal(err)
	}
	opened := ready(t, path)
	if err := opened.Stamp(); err != nil {
		t.Fatal(err)
	}
	return path
}

// ready opens a file as who answers from it does.
func ready(t testing.TB, path string) *network.Network {
	t.Helper()
	n, err := network.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { n.Close() })
	if err := n.Ready(context.Background(), nil); err != nil {
		t.Fatal(err)
	}
	return n
}

// counted opens a file and returns how many bytes were checked, and what was found.
func counted(t *testing.T, path string) (bytes int64, err error) {
	t.Helper()
	n, err := network.Open(path)
	if err != nil {
		return 0, err
	}
	defer n.Close()
	err = n.Ready(context.Background(), func(done, _ int64) { bytes = done })
	return bytes, err
}

// A file is read once: what is stamped is not read again while it is the same file, and
// is read again whatever was done to it, even where its time says that nothing was.
func TestReadyReadsWhatChanged(t *testing.T) {
	path := sealed(t, prepared(t, town(t)))
	if bytes, err := counted(t, path); bytes != 0 || err != nil {
		t.Errorf("stamped: %d bytes checked, %v", bytes, err)
	}
	info, err := os.Stat(path)
	if err != nil {
		t.Fatal(err)
	}
	raw, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	for name, change := range map[string]func() error{
		"another time":      func() error { return os.Chtimes(path, time.Time{}, info.ModTime().Add(time.Second)) },
		"written again":     func() error { return os.WriteFile(path, raw, 0o644) },
		"no stamp":          func() error { return os.Remove(path + ".checked") },
		"a stamp of others": func() error { return os.WriteFile(path+".checked", []byte("1 {} 0\n"), 0o644) },
		"time set back": func() error {
			return errors.Join(os.WriteFile(path, raw, 0o644), os.Chtimes(path, time.Time{}, info.ModTime()))
		},
	} {
		path = sealed(t, prepared(t, town(t)))
		if err := change(); err != nil {
			t.Fatal(err)
		}
		if bytes, err := counted(t, path); bytes == 0 || err != nil {
			t.Errorf("%s: %d bytes checked, %v", name, bytes, err)
		}
	}
}

// A network that nobody verified is not sealed, and a seal of another file is none: all
// of it is asked, not its checksums alone.
func TestSeal(t *testing.T) {
	n := prepared(t, town(t))
	raw := write(t, n)
	seal := func(raw []byte) uint64 {
		_, r := rowOf(t, raw, "seal")
		return binary.LittleEndian.Uint64(raw[r.offset:])
	}
	if got := seal(raw); got != 0 {
		t.Errorf("not verified, sealed %x", got)
	}
	if err := verify(n); err != nil {
		t.Fatal(err)
	}
	good := write(t, n)
	rows := rowsOf(good)
	due := append([]byte{1}, good[headBytes:headBytes+(len(rows)-1)*rowBytes]...)
	if got, want := seal(good), uint64(1)<<32|uint64(crcOf(due)); got != want {
		t.Errorf("sealed %x, want %x", got, want)
	}
	if again := readFile(t, good); again.Ready(t.Context(), nil) != nil || seal(write(t, again)) != 0 {
		t.Error("what was only read was sealed anew")
	}
	bad := withNumber(t, good, "from", 0, 1<<20) // under checksums that are right
	wantRefusal(t, "another file under its seal", readFile(t, bad).Ready(t.Context(), nil))
	if err := n.Prepare(t.Context(), nil); err != nil || seal(write(t, n)) != 0 {
		t.Errorf("prepared anew, still sealed: %v", err)
	}
}

// Whatever bit of a stamped file the disk turns over, behind the back of the system: no
// way is answered of which the file now says something else, and those of other pages
// still are.
func TestSoundFindsEveryBit(t *testing.T) {
	t.Run("town", func(t *testing.T) { turnOver(t, prepared(t, town(t)), 16) })
	t.Run("grid", func(t *testing.T) {
		if sound := turnOver(t, prepared(t, grid(t, 1500)), 6); sound == 0 {
			t.Error("one bit turned over made every way unsound")
		}
	})
}

// turnOver turns so many bits of each section over, one at a time, and returns of how
// many roads the way was sound.
func turnOver(t *testing.T, n *network.Network, bits uint64) (sound int) {
	path := sealed(t, n)
	raw, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	whole := ready(t, path)
	stamp, _ := os.ReadFile(path + ".checked")
	f, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	for _, r := range rowsOf(raw) {
		for at := r.offset; at < r.offset+r.size; at += 1 + r.size/bits {
			bit := byte(1) << (at % 8)
			if _, err := f.WriteAt([]byte{raw[at] ^ bit}, int64(at)); err != nil {
				t.Fatal(err)
			}
			if n := rotten(t, path, stamp); n != nil {
				sound += sameWhereSound(t, n, whole, r.name)
				n.Close()
			}
			if _, err := f.WriteAt(raw[at:at+1], int64(at)); err != nil {
				t.Fatal(err)
			}
		}
	}
	return sound
}

// rotten opens a file as if nothing had changed it, nil where that is refused.
func rotten(t *testing.T, path string, stamp []byte) *network.Network {
	t.Helper()
	n, err := network.Open(path)
	if err != nil {
		return nil
	}
	if err := n.Stamp(); err != nil { // names the file as it is now
		t.Fatal(err)
	}
	if err := n.Ready(t.Context(), nil); err != nil {
		n.Close()
		return nil
	}
	return n
}

// sameWhereSound counts the roads whose way is sound, and wants the file to say of them
// what it did.
func sameWhereSound(t *testing.T, n, whole *network.Network, section string) (sound int) {
	t.Helper()
	for e := range network.EdgeID(whole.Edges()) {
		if n.Sound([]network.Piece{whole.Whole(network.MakeArc(e, false))}) != nil {
			continue
		}
		sound++
		if !sameEdge(n, whole, e) {
			t.Fatalf("section %q: edge %d is sound, and says something else", section, e)
		}
	}
	return sound
}

// sameEdge reports whether two networks say the same of an edge.
func sameEdge(a, b *network.Network, e network.EdgeID) bool {
	same := func(n *network.Network) []any {
		v, ok := n.Speed(e)
		g, known := n.Grade(network.MakeArc(e, false))
		out := []any{v, ok, g, known, n.From[e], n.To[e], n.Length[e], n.Class[e], n.Ref(e), n.Name(e), n.Town(e),
			n.Zone(e), n.Origin(e)}
		for _, s := range n.Spots(e) {
			out = append(out, s, n.Text(s.Name))
		}
		return out
	}
	return slices.Equal(same(a), same(b)) && slices.Equal(a.Shape(e), b.Shape(e)) &&
		slices.Equal(a.Jurisdictions(e), b.Jurisdictions(e)) && sameRecord(a, b, e)
}

func sameRecord(a, b *network.Network, e network.EdgeID) bool {
	r, s := a.Record(a.RoadID(e)), b.Record(b.RoadID(e))
	return r.Road == s.Road && slices.Equal(r.Signs, s.Signs)
}
