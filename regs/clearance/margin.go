package clearance

import (
	"math"
	"slices"
	"time"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/rows"
	"wayhouse/regs/say"
)

// Height is how high a rig is and how that is known.
type Height struct {
	Of       measure.Known[measure.Length] // a least one: a part of the rig was not measured
	Measured bool                          // on the finished unit, loaded, tires at pressure; otherwise designed
}

// Allowances are what is taken off a clearance before it is compared. They
// are this project's choice, editable and none below zero. They follow common
// practice, no source: a height pole set 75 to 150 mm above the load, snow
// pack of 50 to 100 mm, 50 mm of bounce.
type Allowances struct {
	Base          measure.Length
	Bounce        measure.Length
	Snow          measure.Length // in the winter months only
	WinterMonths  []time.Month
	DesignedError measure.Length // of a height that was designed
	MeasuredError measure.Length // of a height that was measured
	Review        measure.Length // a margin up to this one is for a person to decide
	Side          measure.Length // to either side, where the width is limited
	FigureTerm    time.Duration  // how long after its measurement a figure clears; 0: the default
}

// DefaultAllowances returns the allowances of an installation that set none.
func DefaultAllowances() Allowances {
	return Allowances{
		Base:          100 * measure.Millimetre,
		Bounce:        50 * measure.Millimetre,
		Snow:          50 * measure.Millimetre,
		WinterMonths:  []time.Month{time.November, time.December, time.January, time.February, time.March, time.April},
		DesignedError: 50 * measure.Millimetre,
		MeasuredError: 20 * measure.Millimetre,
		Review:        150 * measure.Millimetre,
		Side:          150 * measure.Millimetre,
		FigureTerm:    DefaultFigureTerm,
	}
}

// Reduced reports whether any allowance is below its default, or figures may be
// older.
func (a Allowances) Reduced() bool {
	d := DefaultAllowances()
	return a.Base < d.Base || a.Bounce < d.Bounce || a.Snow < d.Snow || a.DesignedError < d.DesignedError ||
		a.MeasuredError < d.MeasuredError || a.Side < d.Side || len(a.WinterMonths) < len(d.WinterMonths) ||
		a.FigureTerm > d.FigureTerm
}

// Error is by how much a rig may be higher than its height says.
func (a Allowances) Error(h Height) measure.Length {
	if h.Measured {
		return a.MeasuredError
	}
	return a.DesignedError
}

// Part is one length in the sum that makes a margin.
type Part struct {
	Of PartOf
	measure.Length
}

// PartOf is what a part of a sum is.
type PartOf string

// The parts: the figure of a structure, and what is taken off it.
const (
	Posted        PartOf = "posted"
	Measured      PartOf = "measured"
	RigHeight     PartOf = "rig"
	Base          PartOf = "base"
	Bounce        PartOf = "bounce"
	Snow          PartOf = "snow"
	Sag           PartOf = "sag"
	DesignedError PartOf = "designed_error"
	MeasuredError PartOf = "measured_error"
)

// Term is the code of the part's name.
func (p PartOf) Term() say.Code { return say.Word("clearance", string(p)) }

// Body is what of a rig a structure meets. What is nil is not known.
type Body struct {
	Height Height
	Span   *measure.Length // between the supports of the unit
	Width  measure.Known[measure.Length]
	Mass   measure.Known[measure.Mass]
}

// Passage is how a rig passes under one structure.
type Passage struct {
	Outcome finding.Outcome
	Reason  finding.Reason // why it is not clear; "" where it is
	Known   bool           // whether there is a figure to compare with
	Margin  measure.Length // figure - height - allowances, where Known
	Parts   []Part         // the sum: the figure first, then what is taken off
	Why     say.Remark     // where the outcome is not what the margin alone would give
	Others  []say.Remark   // what width, mass, words and wind ask here
	Shut    *Days          // on which the road surely is closed, where those are some of the days of passing only
}

// Sum is how the margin comes about, nothing where there is none.
func (p Passage) Sum() say.Remark {
	if !p.Known {
		return say.Remark{}
	}
	var parts []say.Remark
	for i, part := range p.Parts {
		one := say.That("passage.part", "of", part.Of, "length", part.Length)
		if i == 0 {
			one = say.That("passage.room", "of", part.Of, "length", part.Length)
		}
		parts = append(parts, one)
	}
	return say.That("passage.sum", "parts", parts, "margin", p.Margin)
}

// Pass works out how a rig of this height passes under the structure on a day.
//
// margin = figure - height - base - bounce - snow in winter months - sag -
// the height's own error, where sag is L^2/8R for a rig of length L in a curve
// of radius R. Below 0 the way is shut. From 0 to the review margin a person
// must decide. Above it the figure clears the rig, if it is published or
// verified and not stale ([Structure.Stale]); one that is neither leaves it unknown.
//
// span is the length between the supports of the unit, nil where not known;
// over a known curve the passage is then unknown unless it is shut anyway.
func Pass(s Structure, h Height, span *measure.Length, a Allowances, day time.Time, term time.Duration) Passage {
	figure, of := s.Figure()
	switch {
	case h.Of.Open():
		return Passage{Outcome: finding.Unknown, Reason: finding.NotGiven, Why: say.That("passage.rig_not_known")}
	case figure == nil:
		return Passage{
			Outcome: finding.Unknown, Reason: finding.NotMeasured,
			Why: say.That("passage.no_height", "note", s.Note),
		}
	}
	p := Passage{Known: true, Margin: *figure, Parts: []Part{{of, *figure}}}
	for _, part := range takenOff(s, h, span, a, day.Month()) {
		p.Margin, p.Parts = p.Margin-part.Length, append(p.Parts, part)
	}
	p.Outcome, p.Reason, p.Why = outcome(s, h, p.Margin, span, a, day, term)
	return p
}

func outcome(s Structure, h Height, margin measure.Length, span *measure.Length, a Allowances, day time.Time,
	term time.Duration) (finding.Outcome, finding.Reason, say.Remark) {
	stale := s.Stale(day, term, a)
	switch {
	case margin < 0:
		return finding.Forbidden, finding.Exceeded, say.Remark{}
	case h.Of.AtLeast():
		return finding.Unknown, finding.AtLeast, say.That("passage.tow_not_given")
	case s.SagRadius != nil && span == nil:
		return finding.Unknown, finding.NotGiven, say.That("passage.sags")
	case margin <= a.Review:
		return finding.Review, finding.Little, say.Remark{}
	case s.Invented(): // the mark says so wherever it stands; a bare word without it would not
		return finding.Unknown, finding.Made, say.That("passage.made_up")
	case !s.Status.Trusted():
		return finding.Unknown, s.Status.Doubt(), say.That("passage.status", "status", s.Status)
	case rows.IsRival(s.ID, s.Status):
		return finding.Unknown, finding.Contradicts, say.That("passage.rival")
	case !stale.None():
		return finding.Unknown, finding.Stale, stale
	default:
		return finding.Clear, "", say.Remark{}
	}
}

// takenOff is what is taken off a figure.
func takenOff(s Structure, h Height, span *measure.Length, a Allowances, month time.Month) []Part {
	high, _ := h.Of.Least()
	out := []Part{{RigHeight, high}, {Base, a.Base}, {Bounce, a.Bounce}}
	if slices.Contains(a.WinterMonths, month) {
		out = append(out, Part{Snow, a.Snow})
	}
	if s.SagRadius != nil && span != nil {
		out = append(out, Part{Sag, sag(*span, *s.SagRadius)})
	}
	if h.Measured {
		return append(out, Part{MeasuredError, a.MeasuredError})
	}
	return append(out, Part{DesignedError, a.DesignedError})
}

// sag is L^2/8R, rounded up to a millimetre.
func sag(span, radius measure.Length) measure.Length {
	mm := math.Ceil(span.Metres() * span.Metres() / (8 * radius.Metres()) * 1000)
	return measure.Length(min(mm, float64(measure.MaxLength/measure.Millimetre))) * measure.Millimetre
}
