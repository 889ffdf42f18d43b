package timetable

import (
	"cmp"
	"sort"
	"time"
)

// window is a time of travel, in minutes.
type window struct{ opens, closes minutes }

// windows are [Hours] in whole minutes, those that touch being one; nil: any hour.
type windows struct{ list []window }

func windowsOf(h *Hours) *windows {
	if h == nil {
		return nil
	}
	out := &windows{}
	var from, to time.Time // of the spans that touch one another
	keep := func() {
		if w := (window{upTo(from), downTo(to)}); w.closes > w.opens {
			out.list = append(out.list, w)
		}
	}
	for i, s := range h.Spans {
		if i > 0 && !s.From.After(to) {
			to = latest(to, s.To)
			continue
		}
		if i > 0 {
			keep()
		}
		from, to = s.From, s.To
	}
	if len(h.Spans) > 0 {
		keep()
	}
	return out
}

// and are the times at which both are open.
func (w *windows) and(o *windows) *windows {
	if w == nil || o == nil {
		return cmp.Or(w, o)
	}
	out := &windows{}
	for i, k := 0, 0; i < len(w.list) && k < len(o.list); {
		a, b := w.list[i], o.list[k]
		if both := (window{max(a.opens, b.opens), min(a.closes, b.closes)}); both.closes > both.opens {
			out.list = append(out.list, both)
		}
		if a.closes < b.closes {
			i++
		} else {
			k++
		}
	}
	return out
}

func latest(a, b time.Time) time.Time {
	if b.After(a) {
		return b
	}
	return a
}

// first is the first window that is not over at a moment; ok is false where there is none.
func (w *windows) first(at minutes) (window, bool) {
	i := sort.Search(len(w.list), func(i int) bool { return w.list[i].closes > at })
	if i == len(w.list) {
		return window{}, false
	}
	return w.list[i], true
}

// open is how long travel goes on being allowed from a moment, 0 where it is not.
func (w *windows) open(at minutes) minutes {
	if w == nil {
		return forever
	}
	if one, ok := w.first(at); ok && one.opens <= at {
		return one.closes - at
	}
	return 0
}

// next is the first moment, at or after another, at which travel is allowed; ok is false
// where there is none.
func (w *windows) next(at minutes) (minutes, bool) {
	if w == nil {
		return at, true
	}
	one, ok := w.first(at)
	return max(at, one.opens), ok
}

// forever is longer than any journey.
const forever minutes = 1 << 40
