package drive

import (
	"math"

	"wayhouse/regs/measure"
)

// Log is what somebody burnt on a way that lies behind them.
type Log struct {
	Fuel     measure.Volume
	Distance measure.Distance
	Mass     *measure.Mass // of the rig; nil: as the vehicle is now
	Speed    measure.Speed // that was driven mostly
	Wind     *measure.Speed
	Kelvins  *float64 // of the air
}

// Learnt is what logs say of a vehicle: where what they tell of lies, in steps of
// [Band.at], and how the errors of that hang together. The zero value is of no log.
type Learnt struct {
	Logs int
	mean [learnt]float64
	root [learnt][learnt]float64 // lower triangle, times its transpose the covariance; of a log
}

// slip is by how much a log may err by itself, as a share: pumps that fill the tank
// differently, an odometer with other tires. This project's choice.
const slip = 0.03

// Learn updates what is known of drag, rolling resistance and engine by logs, the
// least-squares way: each of the three has its band as what was known before, a step
// being an end of it; each log is one observation of how far its fuel lies from the
// likely amount, in logarithms, that errs by everything else that is not known of it.
// It is linear about the last answer, three times over.
func (v Vehicle) Learn(logs []Log) Learnt {
	out := Learnt{Logs: len(logs)}
	if len(logs) == 0 || fuels[v.Fuel].heating == 0 {
		return Learnt{}
	}
	for range 3 {
		mean, spread := out.mean, identity()
		next := [learnt]float64{}
		for _, l := range logs {
			far, slope, noise := v.observe(l, mean)
			for c := range slope { // as if it were linear from where nothing was learnt
				far += slope[c] * (mean[c] - next[c])
			}
			update(&next, &spread, far, slope, noise)
		}
		out.mean, out.root = next, cholesky(spread)
	}
	return out
}

// observe is how far the fuel of a log lies from the amount that is likely at a place, by
// how much each step changes that, and the variance of everything else; in logarithms.
func (v Vehicle) observe(l Log, mean [learnt]float64) (far float64, slope [learnt]float64, noise float64) {
	v.Learnt = Learnt{}
	if l.Mass != nil {
		v.Mass = Exactly(*l.Mass)
	}
	w := l.weather()
	way := Section{Length: l.Distance, Speed: l.Speed, Surface: Paved, Flow: Free, NoGrade: true}
	pushes := w.pushes(l.Speed, 0)
	at := func(c Cause, step float64) float64 {
		var p place
		copy(p[:], mean[:])
		p[c] += step
		of := v.at(p, w)
		return math.Log(float64(of.burn(way, pushes, l.Speed)))
	}
	far = math.Log(float64(l.Fuel)) - at(ByDrag, 0)
	noise = slip * slip
	for c := range causes {
		by := (at(c, 1) - at(c, -1)) / 2
		if c < learnt {
			slope[c] = by
		} else {
			noise += by * by
		}
	}
	return far, slope, noise
}

// weather is the air of a log. A wind of which nothing more is known came from anywhere.
func (l Log) weather() Weather {
	w := AnyWeather(0)
	if l.Kelvins != nil {
		w.Air = OfKelvins(0, *l.Kelvins).Air
	}
	if l.Wind != nil {
		w.Wind = *l.Wind
	}
	return w
}

func identity() (out [learnt][learnt]float64) {
	for i := range out {
		out[i][i] = 1
	}
	return out
}

// update takes one observation into a mean and its covariance (the Kalman update of one
// observation; R. E. Kalman, 1960): far is how far it lies from what the mean says.
func update(mean *[learnt]float64, spread *[learnt][learnt]float64, far float64, slope [learnt]float64, noise float64) {
	var along [learnt]float64 // the covariance times the slope
	total := noise
	for i := range along {
		for j := range slope {
			along[i] += spread[i][j] * slope[j]
		}
		total += slope[i] * along[i]
	}
	for i := range along {
		mean[i] += along[i] / total * far
	}
	for i := range along {
		for j := range along {
			spread[i][j] -= along[i] * along[j] / total
		}
	}
}

// cholesky is the lower triangle that times its transpose gives a covariance.
func cholesky(a [learnt][learnt]float64) (root [learnt][learnt]float64) {
	for i := range a {
		for j := range i + 1 {
			sum := a[i][j]
			for k := range j {
				sum -= root[i][k] * root[j][k]
			}
			if i == j {
				root[i][i] = math.Sqrt(max(sum, 0))
			} else if root[j][j] > 0 {
				root[i][j] = sum / root[j][j]
			}
		}
	}
	return root
}

// aside is one of the independent directions in which what was learnt may err, to its
// end.
func (l Learnt) aside(c Cause) (out [learnt]float64) {
	if l.Logs == 0 {
		out[c] = 1
		return out
	}
	for i := range out {
		out[i] = l.root[i][c]
	}
	return out
}

// spread is how far one figure may lie from its mean.
func (l Learnt) spread(c Cause) float64 {
	if l.Logs == 0 {
		return 1
	}
	sum := 0.0
	for _, r := range l.root[c] {
		sum += r * r
	}
	return math.Sqrt(sum)
}

// least is where what was learnt lies at its low ends.
func (l Learnt) least() []float64 {
	out := make([]float64, learnt)
	for c := range learnt {
		out[c] = l.mean[c] - l.spread(c)
	}
	return out
}

// band is a figure as it is once logs were read.
func band[T ~float64 | ~int64](b Band[T], l Learnt, c Cause) Band[T] {
	mean, by := l.mean[c], l.spread(c)
	return Band[T]{b.at(mean), b.at(mean - by), b.at(mean + by)}
}

// Drag, Rolling and Engine are the drag area, the coefficient of rolling resistance on a
// paved road and the efficiency of the engine, as logs leave them.
func (v Vehicle) Drag() Band[measure.Area] { return band(v.DragArea, v.Learnt, ByDrag) }

// Rolling is the coefficient of rolling resistance on a paved road.
func (v Vehicle) Rolling() Band[float64] { return band(rolling[Paved], v.Learnt, ByRolling) }

// Engine is the efficiency of the engine, with what is not known of the driveline.
func (v Vehicle) Engine() Band[float64] {
	b := withDriveline(fuels[v.Fuel].engine)
	mean, by := v.Learnt.mean[ByEngine], v.Learnt.spread(ByEngine)
	return Band[float64]{b.at(-mean), b.at(-mean - by), b.at(-mean + by)}
}
