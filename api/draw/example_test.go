package draw_test

import (
	"fmt"
	"strings"

	"wayhouse/api/draw"
	"wayhouse/api/phrase"
	"wayhouse/regs/measure"
	"wayhouse/routing/rig"
)

func ExampleText() {
	var r rig.Rig
	r.Unit.Name = "Wren"
	r.Unit.Frame = rig.Frame{
		Outline: []rig.Box{{
			Name: "house", From: 1200 * measure.Millimetre, To: 6 * measure.Metre, Left: 1200 * measure.Millimetre, Right: 1200 * measure.Millimetre,
			Bottom: 500 * measure.Millimetre, Top: 3 * measure.Metre,
		}},
		Axles: []rig.Axle{{At: 3600 * measure.Millimetre}},
	}
	var b strings.Builder
	if err := draw.Text(&b, phrase.English(), r, r.Statics(), 60, true); err != nil {
		fmt.Println(err)
	}
	side, _, _ := strings.Cut(b.String(), "REAR VIEW")
	fmt.Print(side)
	// Output:
	// INVENTED: Wren
	// Scale: 1 character = 0.15 m across, 0.3 m up.
	//
	// SIDE VIEW
	//
	// ├──── unit 6 m (≈ 19 ft 8 1/4 in) ──────┤
	// ╶┈┈┈┈┈┈┈┳━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━┓ height 3 m
	//         ┃                               ┃
	//         ┃                               ┃
	//         ┃                               ┃
	//         ┃                               ┃
	//         ┃                               ┃
	//         ┃                               ┃
	//         ┃                               ┃
	//         ┗━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━┛
	//                         O
	// ═════════════════════════════════════════
	// ▲                       ▼
	// A                       B
	//
	// A coupling, its height is not given: not known
	// B axle 1, 3.6 m (≈ 11 ft 9 3/4 in) behind the coupling:
	//   not known
	// height 3 m (≈ 9 ft 10 1/8 in)
	// tow vehicle: not drawn, its length and height are not
	//   known
	// axles of the tow vehicle: not drawn, they or where its
	//   coupling sits are not described
}

func ExampleRig() {
	var r rig.Rig
	r.Unit.Name = "Wren & Reed"
	var b strings.Builder
	if err := draw.Rig(phrase.English(), r, r.Statics(), true).SVG(&b); err != nil {
		fmt.Println(err)
	}
	fmt.Println(strings.Split(b.String(), "\n")[1])
	// Output:
	// <title>INVENTED: Wren &amp; Reed</title>
}
