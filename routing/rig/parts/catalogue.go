package parts

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"regexp"
	"slices"
	"strings"

	"github.com/agnivade/levenshtein"
)

// Catalogue is a list of parts, read-only once read.
type Catalogue struct {
	Revision string // of the bytes it was read from
	rows     []Entry
	byID     map[string]int
}

// Read reads a CSV of [Table]. It takes all rows or none; errors name line,
// column and value (rows.CellError), or row and layer (measure.FieldError).
func Read(raw []byte) (*Catalogue, error) {
	list, _, err := Table().ReadCSV(raw)
	if err != nil {
		return nil, err
	}
	sum := sha256.Sum256(raw)
	c := &Catalogue{Revision: hex.EncodeToString(sum[:6]), rows: list, byID: make(map[string]int, len(list))}
	for i, r := range list {
		c.byID[r.ID] = i
	}
	if err := c.weigh(); err != nil {
		return nil, err
	}
	return c, nil
}

// All returns the parts in the order of the table. The list is the caller's.
func (c *Catalogue) All() []Entry { return slices.Clone(c.rows) }

// Find returns the part of an id, written exactly so.
func (c *Catalogue) Find(id string) (Entry, bool) {
	i, ok := c.byID[id]
	if !ok {
		return Entry{}, false
	}
	return c.rows[i], true
}

// Bounds of a search for what was meant.
const (
	mostNear = 5  // suggestions
	longest  = 64 // bytes of what is asked; longer is no slip
)

var noWord = regexp.MustCompile(`[^a-z0-9]+`)

// Near returns up to five ids that may have been meant, the likeliest first:
// those that differ by a slip or two, else those that have the words asked for
// in them. It is for a message only: nothing is ever weighed on a guess.
func (c *Catalogue) Near(id string) []string {
	if len(id) > longest {
		return nil
	}
	want := strings.Trim(noWord.ReplaceAllString(strings.ToLower(id), "-"), "-")
	if want == "" {
		return nil
	}
	out := c.slips(want)
	if len(out) == 0 {
		out = c.containing(want)
	}
	return out[:min(len(out), mostNear)]
}

// slips lists ids that differ by one letter for every four, three at the most,
// and one at least.
func (c *Catalogue) slips(want string) []string {
	allowed := min(1+len(want)/4, 3)
	distance := map[string]int{}
	var out []string
	for _, r := range c.rows {
		if diff := len(r.ID) - len(want); diff > allowed || -diff > allowed {
			continue
		}
		if n := levenshtein.ComputeDistance(want, r.ID); n <= allowed {
			distance[r.ID] = n
			out = append(out, r.ID)
		}
	}
	slices.SortFunc(out, func(a, b string) int {
		return cmp.Or(cmp.Compare(distance[a], distance[b]), strings.Compare(a, b))
	})
	return out
}

// containing lists ids that have all of the words, the shortest first.
func (c *Catalogue) containing(want string) []string {
	var out []string
	for _, r := range c.rows {
		words := strings.Split(r.ID, "-")
		if !slices.ContainsFunc(strings.Split(want, "-"), func(w string) bool { return !slices.Contains(words, w) }) {
			out = append(out, r.ID)
		}
	}
	slices.SortFunc(out, func(a, b string) int {
		return cmp.Or(cmp.Compare(len(a), len(b)), strings.Compare(a, b))
	})
	return out
}
