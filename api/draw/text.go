package draw

import (
	"fmt"
	"strings"
)

// text writes both views at one scale, under each what stands at its letters, and
// then the movables and the notes.
func (p plan) text(columns int) string {
	var b strings.Builder
	say := func(lines ...string) {
		for _, l := range lines {
			for i, part := range wrap(plain(l), columns-indent) {
				b.WriteString(strings.Repeat(" ", min(i, 1)*indent) + part + "\n")
			}
		}
	}
	scale := rasterFor(columns, p.side, p.rear)
	say(p.title)
	if p.drawn() {
		say("Scale: " + scale.String() + ".")
	}
	for _, v := range []view{p.side, p.rear} {
		b.WriteString("\n" + strings.ToUpper(v.heading) + "\n")
		if drawn := v.text(scale); drawn != "" {
			b.WriteString("\n" + drawn + "\n")
		}
		say(v.list(scale)...)
	}
	if len(p.movables) > 0 {
		b.WriteString("\nMOVABLES\n")
		for i, m := range p.movables {
			say(fmt.Sprintf("%d %s", i+1, m))
		}
	}
	b.WriteString("\nNOTES\n")
	say(p.notes...)
	if p.drawn() {
		say(textKey)
	}
	say(footer)
	return b.String()
}

const textKey = "Heavy lines: as it travels. Light: movable, as it travels. Dashed: only while it stands. " +
	"Dotted: not described, overall size only. O: wheel. ⊕: centre of gravity. ×: sticks out if forgotten."

// list is what stands at the letters under the ground, and what is not drawn.
func (v view) list(s raster) []string {
	var out []string
	for i, l := range v.loads {
		out = append(out, fmt.Sprintf("%s %s, %s: %s", letterOf(i), l.what, l.where, l.carries))
	}
	if v.round { // from behind they are the same
		for _, l := range v.levels {
			out = append(out, l.what+" "+l.up.Up())
		}
	} else {
		for _, b := range v.below {
			out = append(out, b.words)
		}
	}
	for _, a := range v.above {
		if !s.fits(a) {
			out = append(out, a.words)
		}
	}
	return append(out, v.missing...)
}

// letterOf is A for the first; no rig has more than 26.
func letterOf(i int) string { return string(rune('A' + i%26)) }
