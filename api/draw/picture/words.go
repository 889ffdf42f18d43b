package picture

import (
	"strings"
	"sync"
	"unicode"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
)

// Plain takes out what would drive a terminal or turn a line around.
func Plain(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r) {
			return ' '
		}
		return r
	}, s)
}

// lettered is Plain in letters that the Go font has: it lacks the narrow no-break space.
func lettered(s string) string { return strings.ReplaceAll(Plain(s), "\u202f", "\u00a0") }

// letters is the Go font, which is in the module of its own name: a file names no font
// that its reader may not have.
var letters = sync.OnceValue(func() *opentype.Font {
	f, err := opentype.Parse(goregular.TTF)
	if err != nil {
		panic(err) // the font is part of the program
	}
	return f
})

// face are letters of a size in pixels.
func face(size float64) font.Face {
	f, err := opentype.NewFace(letters(), &opentype.FaceOptions{Size: size, DPI: 72, Hinting: font.HintingNone})
	if err != nil {
		panic(err) // no option of ours is refused
	}
	return f
}

// fine is a size at which widths are reckoned: sizes of a letter to a thousandth.
const fine = 1000

var measuring struct {
	sync.Mutex
	font.Face
}

// WideAs is how wide words are, in sizes of the letters. Letters that the Go font lacks,
// such as Chinese ones, are taken to be square.
func WideAs(words string) float64 {
	measuring.Lock()
	defer measuring.Unlock()
	if measuring.Face == nil {
		measuring.Face = face(fine)
	}
	var w float64
	for _, r := range words {
		if by, ok := measuring.GlyphAdvance(r); ok && r < 0x1100 {
			w += float64(by) / 64 / fine
		} else {
			w++
		}
	}
	return w
}

// Label is the room that words take.
type Label struct {
	Left, Top, Right, Foot float64
	Text                   string
}

// Above and under their foot words reach as far, in sizes of the letters.
const (
	above = 0.78
	under = 0.22
)

// LabelOf is the room that words would take in a picture.
func (p *Picture) LabelOf(at Point, a Anchor, size float64, words string) Label {
	return Mark{Kind: Words, At: []Point{at}, Anchor: a, Size: size, Text: lettered(words)}.label(p.Letter)
}

func (m Mark) label(letter float64) Label {
	at, size := m.At[0], letter*m.Size
	w := WideAs(m.Text) * size
	left := at.X
	switch m.Anchor {
	case Middle:
		left -= w / 2
	case End:
		left -= w
	}
	return Label{left, at.Y - above*size, left + w, at.Y + under*size, m.Text}
}

// Labels is the room that all words of a picture take.
func (p *Picture) Labels() (out []Label) {
	for _, m := range p.Marks {
		if m.Kind == Words {
			out = append(out, m.label(p.Letter))
		}
	}
	return out
}

// Meets reports whether two labels have room in common.
func (l Label) Meets(o Label) bool {
	return l.Left < o.Right && o.Left < l.Right && l.Top < o.Foot && o.Top < l.Foot
}

// WideOf is how wide words are in a picture.
func (p *Picture) WideOf(words string) float64 { return WideAs(lettered(words)) * p.Letter }

// Wrap breaks words into lines that are no wider than so many sizes of the letters, at
// least one letter each. A word that is longer is broken; a no-break space is in a word.
func Wrap(words string, most float64) []string {
	var out []string
	line := ""
	for _, word := range strings.FieldsFunc(lettered(words), func(r rune) bool { return r == ' ' }) {
		if line != "" && WideAs(line+" "+word) > most {
			out, line = append(out, line), ""
		}
		if line != "" {
			line += " "
		}
		line += word
		for all := []rune(line); len(all) > 1 && WideAs(line) > most; all = []rune(line) {
			n := 1
			for n+1 < len(all) && WideAs(string(all[:n+1])) <= most {
				n++
			}
			out, line = append(out, string(all[:n])), string(all[n:])
		}
	}
	return append(out, line)
}
