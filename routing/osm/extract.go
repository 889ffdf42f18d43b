package osm

import (
	"bufio"
	"compress/bzip2"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"runtime"
	"strings"
	"time"

	"github.com/paulmach/orb"
	"github.com/paulmach/osm"
	"github.com/paulmach/osm/osmpbf"
	"github.com/paulmach/osm/osmxml"

	"wayhouse/regs/say"
)

// InputError says why an extract cannot be used.
type InputError struct {
	Path         string
	Problem, Fix say.Remark
}

func (e *InputError) Error() string { return fmt.Sprintf("%s: %s; %s", e.Path, e.Problem, e.Fix) }

// Remark is all of it in one sentence.
func (e *InputError) Remark() say.Remark {
	return say.That("error.of_file", "file", e.Path, "problem", e.Problem, "fix", e.Fix)
}

// pass is one reading of all extracts: which kinds of element it wants, and
// what to do with each. keep drops nodes before they are decoded whole; it is
// called by several goroutines at once.
type pass struct {
	name                    string
	nodes, ways, relations  bool
	keep                    func(*osm.Node) bool
	node                    func(*osm.Node)
	way                     func(*osm.Way)
	relation                func(*osm.Relation)
	progress                Progress
	read, total             int64
	newest, headerTimestamp *time.Time
	boxes                   *[]orb.Bound
}

// Progress hears how far a stage of long work is; the parts have the unit of
// the stage.
type Progress func(stage string, done, total int64)

func (p *pass) run(ctx context.Context, paths []string) error {
	for _, path := range paths {
		if info, err := os.Stat(path); err == nil {
			p.total += info.Size()
		}
	}
	for _, path := range paths {
		if err := p.file(ctx, path); err != nil {
			return err
		}
	}
	return nil
}

func (p *pass) file(ctx context.Context, path string) error {
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	defer f.Close()
	in := bufio.NewReaderSize(&meter{r: f, pass: p}, 1<<20)
	var scanner osm.Scanner
	switch {
	case strings.HasSuffix(path, ".pbf"):
		s := osmpbf.New(ctx, in, runtime.GOMAXPROCS(0))
		s.SkipNodes, s.SkipWays, s.SkipRelations = !p.nodes, !p.ways, !p.relations
		s.FilterNode = p.keep
		scanner = s
		if err := p.header(s); err != nil {
			return &InputError{path, say.That("error.extract"), say.That("fix.download_or_copy_it")}
		}
	case strings.HasSuffix(path, ".osm.bz2"):
		scanner = osmxml.New(ctx, bzip2.NewReader(in))
	case strings.HasSuffix(path, ".osm"):
		scanner = osmxml.New(ctx, in)
	default:
		return &InputError{path, say.That("error.a_name_of_no"), say.That("fix.give_files_that_end")}
	}
	defer scanner.Close()
	for scanner.Scan() {
		p.element(scanner.Object())
	}
	if err := scanner.Err(); err != nil && ctx.Err() == nil {
		return &InputError{path, say.That("error.unread_end"), say.That("fix.download_or_copy_it")}
	}
	return ctx.Err()
}

// header takes the date of the data, where the extract states it.
func (p *pass) header(s *osmpbf.Scanner) error {
	h, err := s.Header()
	if err != nil {
		return err
	}
	if h == nil {
		return errors.New("its first block is no header")
	}
	p.bounds(h.Bounds)
	if t := h.ReplicationTimestamp; !t.IsZero() && p.headerTimestamp != nil &&
		(p.headerTimestamp.IsZero() || t.Before(*p.headerTimestamp)) {
		*p.headerTimestamp = t // of several extracts the oldest
	}
	return nil
}

// bounds keeps the box that an extract states.
func (p *pass) bounds(b *osm.Bounds) {
	if b != nil && p.boxes != nil {
		*p.boxes = append(*p.boxes, orb.Bound{Min: orb.Point{b.MinLon, b.MinLat}, Max: orb.Point{b.MaxLon, b.MaxLat}})
	}
}

func (p *pass) element(o osm.Object) {
	switch o := o.(type) {
	case *osm.Bounds:
		p.bounds(o)
	case *osm.Node:
		if p.nodes && (p.keep == nil || p.keep(o)) {
			p.edited(o.Timestamp)
			p.node(o)
		}
	case *osm.Way:
		if p.ways {
			p.edited(o.Timestamp)
			p.way(o)
		}
	case *osm.Relation:
		if p.relations {
			p.edited(o.Timestamp)
			p.relation(o)
		}
	}
}

func (p *pass) edited(at time.Time) {
	if p.newest != nil && at.After(*p.newest) {
		*p.newest = at
	}
}

// meter counts what is read.
type meter struct {
	r    io.Reader
	pass *pass
}

func (m *meter) Read(b []byte) (int, error) {
	n, err := m.r.Read(b)
	m.pass.read += int64(n)
	if m.pass.progress != nil {
		m.pass.progress(m.pass.name, m.pass.read, m.pass.total)
	}
	return n, err
}

// firstEdit is the year in which OpenStreetMap began: an earlier date is none.
const firstEdit = 2004

func dateOf(header, newest time.Time) string {
	switch {
	case !header.IsZero():
		return header.UTC().Format(time.DateOnly)
	case newest.Year() >= firstEdit:
		return newest.UTC().Format(time.DateOnly) + " (the newest edit in it)"
	default:
		return "not stated"
	}
}
