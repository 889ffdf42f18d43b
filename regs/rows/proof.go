package rows

import (
	"strings"
	"time"

	"wayhouse/regs/finding"
	"wayhouse/regs/say"
)

// Proof is where a row comes from and how well it is known.
type Proof struct {
	Status  finding.Status
	Source  string
	Section string
	Year    string
	URL     string
	ReadOn  time.Time // zero: never
}

// ProofColumns are the columns of a proof, in order.
func ProofColumns() []string {
	return []string{"status", "source", "section", "source_year", "source_url", "read_on"}
}

// ReadProof reads the columns of a proof.
func ReadProof(c *Cells) Proof {
	return Proof{
		Status: OneOf(c, "status", finding.Published, finding.Verified, finding.Secondary, finding.Memory, finding.Invented),
		Source: c.Need("source"), Section: c.Get("section"), Year: c.Get("source_year"),
		URL: c.Get("source_url"), ReadOn: c.Day("read_on"),
	}
}

// Stale reports whether on a day the row was read or verified longer ago than
// the term allows, or never.
func (p Proof) Stale(day time.Time, term time.Duration) bool { return Stale(p.ReadOn, day, term) }

// Firm reports whether a row can settle anything on a day: published or verified
// by the user, and read recently enough.
func (p Proof) Firm(day time.Time, term time.Duration) bool {
	return p.Status.Trusted() && !p.Stale(day, term)
}

// Doubt is why a row can settle nothing on a day, "" where it can.
func (p Proof) Doubt(day time.Time, term time.Duration) finding.Reason {
	if p.Status.Trusted() && p.Stale(day, term) {
		return finding.Stale
	}
	return p.Status.Doubt()
}

// Days says from which day to which something holds, as far as it is stated.
func Days(from, to time.Time) say.Remark {
	switch {
	case from.IsZero() && to.IsZero():
		return say.Remark{}
	case to.IsZero():
		return say.That("days.from", "from", say.Day(from))
	case from.IsZero():
		return say.That("days.to", "to", say.Day(to))
	}
	return say.That("days.between", "from", say.Day(from), "to", say.Day(to))
}

// Cite names the source in one line.
func (p Proof) Cite() string {
	var parts []string
	for _, s := range []string{p.Source, p.Section, p.Year} {
		if s != "" {
			parts = append(parts, s)
		}
	}
	return strings.Join(parts, ", ")
}

// Finding is the row as a finding shows it.
func (p Proof) Finding(id, revision, published string) finding.Citation {
	return finding.Citation{
		ID: id, Revision: revision, Published: published, Status: p.Status, Source: p.Source, Section: p.Section,
		Year: p.Year, URL: p.URL, ReadOn: p.ReadOn,
	}
}
