package sweep

import (
	"testing"

	"github.com/paulmach/orb"

	"wayhouse/regs/measure"
)

// corners returns n corners of 150 m of different turns and radii.
func corners(b *testing.B, n int) []orb.LineString {
	out := make([]orb.LineString, n)
	for i := range out {
		c, err := Round(kink(Angle(30+i%120)*Degree, 75), measure.Distance(8+i%10))
		if err != nil {
			b.Fatal(err)
		}
		out[i] = c.Path
	}
	return out
}

func benchmark(b *testing.B, n int) {
	paths, r := corners(b, n), pickup()
	var d Driver
	b.ReportAllocs()
	for b.Loop() {
		for _, path := range paths {
			if _, err := d.Drive(r, path); err != nil {
				b.Fatal(err)
			}
		}
	}
}

func BenchmarkCorner(b *testing.B)          { benchmark(b, 1) }
func BenchmarkThousandCorners(b *testing.B) { benchmark(b, 1000) }

func BenchmarkRound(b *testing.B) {
	line := kink(90*Degree, 75)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Round(line, 12.5); err != nil {
			b.Fatal(err)
		}
	}
}

// A line that was not rounded makes every offset look for a nearer place.
func BenchmarkKink(b *testing.B) {
	line, r := kink(90*Degree, 75), pickup()
	var d Driver
	b.ReportAllocs()
	for b.Loop() {
		if _, err := d.Drive(r, line); err != nil {
			b.Fatal(err)
		}
	}
}
