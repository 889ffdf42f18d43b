package drive

// Surface is what a road is made of.
type Surface uint8

// The surfaces.
const (
	SurfaceUnknown Surface = iota
	Paved
	Gravel
	Loose
)

// of is the entry of a surface; one that is not listed is one that is not known.
func (s Surface) of() Range[float64] {
	if int(s) < len(rolling) {
		return rolling[s]
	}
	return rolling[SurfaceUnknown]
}

// rolling is the coefficient of rolling resistance. Paved: light-truck tires,
// 0.007 to 0.017 (Transportation Research Board Special Report 286, 2006, read
// second-hand); a coarse surface may add up to a fifth, which is within that
// spread. Gravel: 0.02 packed, from memory, the spread this project's. Loose: 0.03
// to 0.1, from memory. What is not known is paved or gravel.
var rolling = [...]Range[float64]{
	SurfaceUnknown: {0.007, 0.030}, Paved: {0.007, 0.017}, Gravel: {0.015, 0.030}, Loose: {0.030, 0.100},
}
