package report

import (
	"fmt"
	"io"
	"strings"

	"wayhouse/api/phrase"
	"wayhouse/api/wire"
	"wayhouse/regs"
	"wayhouse/regs/limit"
	"wayhouse/regs/say"
)

// Coverage writes how well the tables know each quantity as plain text.
func Coverage(w io.Writer, v View, c *wire.Coverage) error {
	fmt.Fprintln(w, v.In.Say(say.That("report.coverage", "revision", c.Revision(), "day", c.Day)))
	for _, code := range c.Codes {
		cover := c.Coverage[code]
		fmt.Fprintln(w, code)
		for _, known := range regs.Covers() {
			var names []string
			for _, q := range limit.Quantities() {
				if cover[q] == known {
					names = append(names, v.In.Term(q))
				}
			}
			if len(names) > 0 {
				fmt.Fprintf(w, "  %-15s %s\n", v.In.Term(known), strings.Join(names, ", "))
			}
		}
		blocked(w, v.In, cover, c.Blocked[code])
	}
	_, err := fmt.Fprintln(w, c.Caution)
	return err
}

// blocked says of quantities that are known well which cannot clear all the
// same, and why; that stale and unverified rows cannot is said with them.
func blocked(
	w io.Writer,
	in *phrase.Language,
	cover map[limit.Quantity]regs.Cover,
	blocked map[limit.Quantity]wire.Blocked,
) {
	for _, q := range limit.Quantities() {
		b, is := blocked[q]
		if is && (cover[q] == regs.CoverVerified || cover[q] == regs.CoverPublished) {
			why := Printable(strings.Join(b.Why, "; "))
			fmt.Fprintf(w, "  %-15s %s\n", in.Say(say.That("report.cannot_clear")), in.Say(say.That("report.blocked",
				"quantity", q, "published", Printable(b.Published), "row", Printable(b.Row), "why", why)))
		}
	}
}
