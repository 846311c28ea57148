// Package ordering is the engine: it says in what order envelopes stand, where
// divider cards go, when a box spills, and what to pull and put back to get
// there.
//
// The usual way in is [Arrange], which files a collection, and [Layout.Next],
// which follows one change. A layout then answers where a copy stands
// ([Layout.Slot]), where a new one would ([Layout.GapFor]), how boxes should
// begin and end ([Layout.Split], [Layout.Target]) and how to get there with
// the fewest pulls ([Layout.Refile]).
//
// # Order
//
// Section, as the owner lists them; then publisher by name; then number by the
// publisher's scheme; then, behind the numbered ones, what has no number by
// name; then year (unknown first), size range, accession number. No two copies
// share an accession number, so the order is total: the same copies give the
// same row, whatever order they come in. Cost: one key a copy and one sort,
// n log n comparisons.
//
// # Filling
//
// The row has one order and boxes are filled from the front, so a split is a
// list of walls. Filling each box before the next is opened gets furthest along
// the row with the boxes there are, and so needs the fewest new ones; where all
// boxes take the same it also uses the fewest (exchange argument: moving a wall
// forward never makes the rest need more). Where they differ, a short box is
// left empty if that saves a box in use. What is thicker than any box stands
// alone in one. Cards count as load. Cost: one pass; where boxes differ, boxes
// times boxes in use besides.
//
// # Refiling
//
// What stays in a box is a longest run of envelopes that are in the right box
// and already in order, so the number pulled is the least possible for that
// plan. Where no split has been decided, the plan itself is chosen so: walls
// are put where a longest run in order over all boxes leaves them, and moved
// on only where a box would spill. Cost: n log n.
//
// Everything here is pure: no clock, no chance, no files. Lengths are
// [model.Length]; positions count from 1 at the front of a box.
package ordering
