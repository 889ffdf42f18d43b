package measure

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// String prints both systems, metric first: "4.1148 m (13 ft 6 in)". A "≈"
// marks a figure that had to be rounded: to 0.1 mm, to 1/16 in.
func (l Length) String() string { return l.Metric() + " (" + l.Customary() + ")" }

// Metric prints metres: "4.15 m".
func (l Length) Metric() string {
	const step = Millimetre / 10
	return approx(l%step != 0) + decimal(int64(roundTo(l, step)), int64(Metre)) + " m"
}

// Customary prints feet and inches to the nearest 1/16 in: "13 ft 7 3/8 in";
// a negative length, such as a margin, has its sign in front.
func (l Length) Customary() string {
	const sixteenth = Inch / 16
	if l < 0 {
		s, rounded := strings.CutPrefix((-l).Customary(), approx(true))
		return approx(rounded) + "-" + s
	}
	n := int64(roundTo(l, sixteenth) / sixteenth)
	inches := n / 16
	s := strconv.FormatInt(inches%12, 10)
	if part := n % 16; part != 0 {
		d := int64(16)
		for part%2 == 0 {
			part, d = part/2, d/2
		}
		s = strings.TrimPrefix(fmt.Sprintf("%s %d/%d", s, part, d), "0 ")
	}
	if feet := inches / 12; feet != 0 {
		s = fmt.Sprintf("%d ft %s", feet, s)
	}
	return approx(l%sixteenth != 0) + s + " in"
}

// String prints both systems, metric first: "10900 kg (≈ 24,030 lb)". A "≈"
// marks a figure that had to be rounded: to 0.1 kg, to 1 lb.
func (m Mass) String() string { return m.Metric() + " (" + m.Customary() + ")" }

// Metric prints kilograms without thousands marks: "10900 kg".
func (m Mass) Metric() string {
	const step = Kilogram / 10
	return approx(m%step != 0) + decimal(int64(roundTo(m, step)), int64(Kilogram)) + " kg"
}

// Customary prints pounds with commas: "24,030 lb".
func (m Mass) Customary() string {
	return approx(m%Pound != 0) + commas(int64(roundTo(m, Pound)/Pound)) + " lb"
}

// String prints both systems: "90 km/h (56 mph)".
func (v Speed) String() string {
	return fmt.Sprintf("%.0f km/h (%.0f mph)", float64(v/KilometrePerHour), float64(v/MilePerHour))
}

// String prints both systems: "196.9 km (122.3 mi)".
func (d Distance) String() string {
	if math.Abs(float64(d)) < 1000 {
		return fmt.Sprintf("%.0f m (%.2f mi)", float64(d), float64(d/Mile))
	}
	return fmt.Sprintf("%.1f km (%.1f mi)", float64(d)/1000, float64(d/Mile))
}

// String prints both systems: "213 m (699 ft)".
func (r Rise) String() string { return fmt.Sprintf("%.0f m (%.0f ft)", float64(r), float64(r)/0.3048) }

// String prints litres and US gallons: "52.3 L (13.8 US gal)".
func (v Volume) String() string {
	return fmt.Sprintf("%.1f L (%.1f US gal)", float64(v/Litre), float64(v/USGallon))
}

func approx(rounded bool) string {
	if rounded {
		return "≈ "
	}
	return ""
}

func sign(negative bool) string {
	if negative {
		return "-"
	}
	return ""
}

// roundTo rounds half away from zero to a multiple of step.
func roundTo[T ~int64](v, step T) T {
	if v < 0 {
		return -roundTo(-v, step)
	}
	return (v + step/2) / step * step
}

// decimal prints n/unit exactly, without trailing zeros.
func decimal(n, unit int64) string {
	minus := sign(n < 0)
	if n < 0 {
		n = -n
	}
	part := strings.TrimRight(strings.TrimPrefix(strconv.FormatInt(unit+n%unit, 10), "1"), "0")
	s := minus + strconv.FormatInt(n/unit, 10)
	if part != "" {
		s += "." + part
	}
	return s
}

func commas(n int64) string {
	s := strconv.FormatInt(n, 10)
	for i := len(s) - 3; i > 0 && s[i-1] != '-'; i -= 3 {
		s = s[:i] + "," + s[i:]
	}
	return s
}

// String prints both systems: "276 kW (370 hp)".
func (p Power) String() string {
	return fmt.Sprintf("%.0f kW (%.0f hp)", float64(p)/1000, float64(p/Horsepower))
}

// String prints both systems: "550 kPa (80 psi)".
func (p Pressure) String() string {
	return fmt.Sprintf("%.0f kPa (%.0f psi)", float64(p/Kilopascal), float64(p/PSI))
}

// String prints both systems: "22.2 kN (4,991 lbf)".
func (f Force) String() string {
	return fmt.Sprintf("%.1f kN (%s lbf)", float64(f)/1000, commas(int64(math.Round(float64(f/PoundForce)))))
}

// MilesPerUSGallon is how far a US gallon goes.
func (c Consumption) MilesPerUSGallon() float64 {
	return float64(USGallon) / float64(Mile) / float64(c)
}

// String prints both systems: "25.6 L/100 km (9.2 mpg US)".
func (c Consumption) String() string {
	return fmt.Sprintf("%.1f L/100 km (%.1f mpg US)", float64(c/LitrePer100Kilometres), c.MilesPerUSGallon())
}

// String prints both systems: "12.5 m2 (135 sq ft)".
func (a Area) String() string {
	return fmt.Sprintf("%.1f m2 (%.0f sq ft)", float64(a), float64(a/SquareFoot))
}
