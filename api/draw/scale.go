package draw

import (
	"fmt"

	"wayhouse/api/draw/picture"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// scale draws a bar of metres, of feet, or one above the other, as the language has
// units, in steps of so many of each, no longer than a width unless a step is. One
// millimetre of what is drawn takes so much.
func (c *canvas) scale(at point, across, mm float64, metres, feet int) {
	long, foot := 1000*mm*float64(metres), toMM(measure.Foot)*mm*float64(feet)
	height := -0.5 * c.Letter
	if c.in.Units() != measure.Customary {
		c.ruler(at, height, long, steps(across, long, []int{1, 2, 5, 10, 20, 50}), metres, say.That("unit.metre"))
		height = -height
	}
	if c.in.Units() != measure.Metric {
		c.ruler(at, height, foot, steps(across, foot, []int{1, 2, 3, 4, 6, 10, 20, 30}), feet, say.That("unit.foot"))
	}
}

// steps is the largest of some numbers of steps that fits, at least the first.
func steps(across, step float64, of []int) int {
	n := of[0]
	for _, k := range of {
		if float64(k)*step <= across {
			n = k
		}
	}
	return n
}

// ruler draws steps that are filled in turn, each of so many units, and the numbers
// above or under them by the sign of height, as far apart as they have room.
func (c *canvas) ruler(at point, height, step float64, n, each int, unit say.Remark) {
	for i := range n {
		look := empty
		if i%2 == 0 {
			look = filled
		}
		c.Box(look, "", at.Plus(float64(i)*step, 0), at.Plus(float64(i+1)*step, height))
	}
	foot := at.Y + 1.4*height
	if height > 0 {
		foot += 0.8 * c.Letter
	}
	end := c.in.Say(say.That("draw.scale_end", "number", fmt.Sprint(n*each), "unit", unit))
	room := c.wide(end) + 0.8*c.Letter
	c.text(point{X: at.X + float64(n)*step, Y: foot}, picture.Middle, end)
	for i, last := 0, at.X-room-1; i < n; i++ {
		x := at.X + float64(i)*step
		if x-last >= room && at.X+float64(n)*step-x >= room {
			c.text(point{X: x, Y: foot}, picture.Middle, fmt.Sprint(i*each))
			last = x
		}
	}
}
