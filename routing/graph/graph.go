// Package graph holds directed graphs as flat arrays and finds shortest ways
// through them: compression of what need not be searched, contraction
// hierarchies, and a search under restrictions that the hierarchies guide. It
// knows nothing of roads.
//
// Weights are whole milliseconds, so that two ways of adding them up agree
// exactly. A sum below 2^31 ms, 24.8 days, never overflows.
package graph

// None stands for a node or an arc that is not there.
const None = ^uint32(0)

// Infinite is the distance to what cannot be reached, and the price of an arc
// that is closed. Every sum of weights must stay below it.
const Infinite = uint32(1)<<31 - 1
