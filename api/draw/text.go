package draw

import (
	"fmt"
	"strings"

	"wayhouse/api/draw/picture"
	"wayhouse/regs/say"
)

// text writes both views at one scale, under each what stands at its letters, and
// then the movables and the notes.
func (p plan) text(columns int) string {
	var b strings.Builder
	tell := func(lines ...string) {
		for _, l := range lines {
			for i, part := range wrap(picture.Plain(l), columns-indent) {
				b.WriteString(strings.Repeat(" ", min(i, 1)*indent) + part + "\n")
			}
		}
	}
	scale := rasterFor(columns, p.side, p.rear)
	tell(p.title)
	if p.drawn() {
		tell(p.in.Say(scale.words()))
	}
	for _, v := range []view{p.side, p.rear} {
		b.WriteString("\n" + strings.ToUpper(v.heading) + "\n")
		if drawn := v.text(scale); drawn != "" {
			b.WriteString("\n" + drawn + "\n")
		}
		tell(v.list(scale)...)
	}
	if len(p.movables) > 0 {
		b.WriteString("\n" + p.in.Say(say.That("draw.movables")) + "\n")
		for i, m := range p.movables {
			tell(fmt.Sprintf("%d %s", i+1, m))
		}
	}
	b.WriteString("\n" + p.in.Say(say.That("draw.notes")) + "\n")
	tell(p.notes...)
	if p.drawn() {
		tell(p.in.Say(say.That("draw.text_key")))
	}
	tell(p.in.Say(say.That("draw.footer")))
	return b.String()
}

// list is what stands at the letters under the ground, and what is not drawn.
func (v view) list(s raster) []string {
	var out []string
	for i, l := range v.loads {
		out = append(out, v.in.Say(say.That("draw.load",
			"letter", letterOf(i), "what", l.what, "where", l.where, "carries", l.carries)))
	}
	if v.round { // from behind they are the same
		for _, l := range v.levels {
			out = append(out, v.in.Say(say.That("draw.level", "what", l.what, "up", l.up)))
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

// wrap breaks words into lines of at most so many letters, which must be above 0.
// A word that is longer is broken.
func wrap(words string, most int) []string {
	var out []string
	line := []rune{}
	for _, w := range strings.FieldsFunc(words, func(r rune) bool { return r == ' ' }) { // a no-break space is in a word
		word := []rune(w)
		if len(line) > 0 && len(line)+1+len(word) > most {
			out, line = append(out, string(line)), nil
		}
		if len(line) > 0 {
			line = append(line, ' ')
		}
		line = append(line, word...)
		for len(line) > most {
			out, line = append(out, string(line[:most])), append([]rune(nil), line[most:]...)
		}
	}
	return append(out, string(line))
}
