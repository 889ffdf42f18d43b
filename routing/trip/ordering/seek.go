// Package ordering puts things in the best of all orders: it knows neither places nor times.
package ordering

import (
	"errors"
	"slices"
)

// Seeker seeks the best order of N things by branch and bound. A state stands for all orders
// that begin alike and is no worse than any of them; that of a whole order is what the order
// comes to.
type Seeker[S any] struct {
	N int
	// On is the state once another thing follows; ok is false where nothing leads on, or where
	// what comes of it is surely no better than best, which may be nil. With [ErrEnough] as its error
	// the search ends with the best so far.
	On func(s S, next int, best *S) (on S, ok bool, err error)
	// Better reports whether one state is better than another.
	Better func(a, b S) bool
}

// ErrEnough ends a search that takes too long.
var ErrEnough = errors.New("no more states are tried")

// Best is the best order that was found.
type Best[S any] struct {
	Order []int // nil: no order leads through
	State S
	All   bool // no order is better; false: not all were tried that might be
}

// Seek finds the best order; of orders that are as good it is the one that things were
// numbered in, if that is one of them. The error is one of [Seeker.On], but [ErrEnough].
func (k Seeker[S]) Seek(begin S) (Best[S], error) {
	s := &seeking[S]{Seeker: k, best: Best[S]{All: true}}
	all := make([]int, k.N)
	for i := range all {
		all[i] = i
	}
	err := s.given(begin, all)
	if err == nil {
		err = s.from(begin, nil, all)
	}
	if errors.Is(err, ErrEnough) {
		s.best.All, err = false, nil
	}
	return s.best, err
}

type seeking[S any] struct {
	Seeker[S]
	best Best[S]
}

// given tries the order that things are numbered in.
func (s *seeking[S]) given(at S, order []int) error {
	for _, next := range order {
		on, ok, err := s.On(at, next, nil)
		if err != nil || !ok {
			return err
		}
		at = on
	}
	s.best.Order, s.best.State = slices.Clone(order), at
	return nil
}

func (s *seeking[S]) least() *S {
	if s.best.Order == nil {
		return nil
	}
	return &s.best.State
}

// from tries all orders that begin with some things, the most promising next one first.
func (s *seeking[S]) from(at S, begun, left []int) error {
	type branch struct {
		state S
		next  int
	}
	var all []branch
	for _, next := range left {
		on, ok, err := s.On(at, next, s.least())
		if err != nil {
			return err
		}
		if ok {
			all = append(all, branch{on, next})
		}
	}
	slices.SortStableFunc(all, func(a, b branch) int {
		switch {
		case s.Better(a.state, b.state):
			return -1
		case s.Better(b.state, a.state):
			return 1
		}
		return 0
	})
	for _, b := range all {
		if least := s.least(); least != nil && !s.Better(b.state, *least) {
			continue
		}
		order := append(slices.Clone(begun), b.next)
		if len(left) == 1 {
			s.best.Order, s.best.State = order, b.state
			continue
		}
		rest := slices.DeleteFunc(slices.Clone(left), func(i int) bool { return i == b.next })
		if err := s.from(b.state, order, rest); err != nil {
			return err
		}
	}
	return nil
}
