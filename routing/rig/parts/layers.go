package parts

import (
	"strings"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// framed is how much more of studs, joists or rafters there is in a wall, floor
// or roof than one every spacing: plates, rims and corners. This project's
// estimate, no source.
const framed = 1.1

// Layer is what each square metre of a wall, floor or roof has of an entry.
type Layer struct {
	Of      string
	Depth   measure.Length // of an entry by the cubic metre
	Spacing measure.Length // of an entry by the metre: from middle to middle
}

// Layered reads the layers of the row, from one side to the other, such as
// "osb-11mm; insulation-eps 92 mm; stud-wood-38x89 every 406 mm".
// The error says which layer it cannot read.
func (r Entry) Layered() ([]Layer, error) {
	if r.Layers == "" {
		return nil, nil
	}
	var out []Layer
	for text := range strings.SplitSeq(r.Layers, ";") {
		var l Layer
		id, size, _ := strings.Cut(strings.TrimSpace(text), " ")
		l.Of = id
		into := &l.Depth
		if far, ok := strings.CutPrefix(size, "every "); ok {
			size, into = far, &l.Spacing
		}
		if size != "" {
			d, err := measure.ParseLength(size)
			if err != nil {
				return nil, err
			}
			*into = d
		}
		out = append(out, l)
	}
	return out, nil
}

// Amount is how much of an entry a layer has in each square metre, in the unit
// of the entry. ok is false where the layer does not say what the entry needs,
// or says more.
func (l Layer) Amount(per Unit) (amount float64, ok bool) {
	switch {
	case per == SquareMetre && l.Depth == 0 && l.Spacing == 0:
		return 1, true
	case per == CubicMetre && l.Depth > 0 && l.Spacing == 0:
		return l.Depth.Metres(), true
	case per == Metre && l.Spacing > 0 && l.Depth == 0:
		return framed / l.Spacing.Metres(), true
	}
	return 0, false
}

// weigh works out the rows that are made of layers: their low and typical ends
// are those of the layers, the high end is the greater of theirs and what the
// row states, which for the loads that buildings are designed for is more than
// what is built. The error names the row and the layer.
func (c *Catalogue) weigh() error {
	for i, r := range c.rows {
		if r.Layers == "" {
			continue
		}
		sum, err := c.sum(r)
		if err != nil {
			return err
		}
		if r.High > 0 && r.High < sum.Typical {
			return refuseLayers(r, r.High.String(), say.That("error.below_its_layers"), say.That("fix.order_them_low_typical"))
		}
		c.rows[i].Low, c.rows[i].Typical, c.rows[i].High = sum.Low, sum.Typical, max(r.High, sum.High)
	}
	return nil
}

// sum adds up the layers of a row.
func (c *Catalogue) sum(r Entry) (sum Entry, err error) {
	layers, err := r.Layered()
	if err != nil {
		return sum, refuseLayers(r, r.Layers, say.Of(err), say.That("fix.write_layers_like"))
	}
	for _, l := range layers {
		of, ok := c.Find(l.Of)
		if !ok || of.Layers != "" {
			return sum, refuseLayers(r, l.Of, say.That("error.no_plain_entry"), say.That("fix.write_layers_like"))
		}
		amount, ok := l.Amount(of.Per)
		if !ok {
			return sum, refuseLayers(r, l.Of, say.That("error.layer_without_size"), say.That("fix.write_layers_like"))
		}
		low, typical, high, err := of.Mass(amount)
		if err != nil {
			return sum, err
		}
		sum.Low, sum.Typical, sum.High = sum.Low+low, sum.Typical+typical, sum.High+high
	}
	return sum, nil
}

func refuseLayers(r Entry, value string, problem, fix say.Remark) error {
	return &measure.FieldError{Field: r.ID + ".layers", Value: value, Problem: problem, Fix: fix}
}
