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
// # Cards
//
// Each section has a card before its first copy. In a section of several
// publishers, each with Settings.PublisherCardFrom copies there has one of its
// own. Range cards part what a publisher has in a section, so far as its copies
// have numbers, into groups of no more than Settings.RangeCardEvery: the fewest
// cards that do; of those ways, the one whose numbers are roundest, added up;
// of these, the one whose cards are furthest back, the first one first. A card
// between two numbers says the roundest that is above the one and not above the
// other. Copies of one number are not parted: when they are more than that they
// stand between two cards, alone. All these go by the order alone, so that
// moving a wall needs no other. Cost: one step a copy.
//
// At the head of a box in mid-section stands one card more, in front of what
// else is due there. It says what goes on: the section, and the publisher where
// the box begins amid one that has a card of its own.
//
// In the boxes as they stand, cards go by what stands there and is in order: a
// longest run over all boxes, or in a box of which less than half of what is in
// order belongs to that run, one of its own. A stray has no card and ends no
// section. These are worked out once, kept for as long as nothing that stands
// changes, and not again for what comes onto the pile. Cost: n log n.
//
// # Filling
//
// The row has one order and boxes are filled from the front, so a split is a
// list of walls. Filling each box before the next is opened gets furthest along
// the row with the boxes there are, and so needs the fewest new ones (exchange
// argument: moving a wall forward never makes the rest need more). What is
// thicker than any box stands alone in one. Cards count as load. Binders, hooks
// and the boxes for what is oversize are filled by the same rule
// ([Layout.Binders], [Layout.Hooks], [Layout.Oversize]); of what is oversize a
// dummy as thick as a divider stands in the row. Cost: one pass.
//
// # Splits
//
// Every goal is met exactly, which is tested against all splits of small rows.
// [Fewest]: new boxes, then boxes in use (a short one is left empty if that
// saves one). [Even]: the same, then the largest share of usable length in any
// box in use, then the sum of the squares of the shares; what no box takes is
// left out of it. [LeastMoved]: envelopes that change box, then labels that
// change, then new boxes, then boxes in use. Last, for each, walls between two
// copies of a pattern or two size ranges of a number; and of splits that are
// alike in all that, the one whose first wall is furthest back, then its
// second. Before all this, as many locked boxes as can be keep their label;
// where some cannot, which ones is settled first, and the split is the best for
// those.
//
// Shares are compared as whole parts of which there are enough to tell any two
// apart. Their squares are exact where the lengths of boxes have a small common
// multiple; else they are rounded down to parts as small as 64 bits hold.
//
// How: walls are looked for only where they can be. For fewest and even that is
// between the furthest place that the boxes before get to and the nearest from
// which those behind can take the rest, by number in use. These numbers are as many
// as the boxes to spare and one, but where boxes are alike one alone does; so to find
// the ends costs, on top of one pass over the row, a look into the row a box where
// boxes are alike, and where lengths differ one a box and box to spare. For fewest,
// where no twins need be parted, these ends are enough; else what the rest of the row
// costs is the same from long stretches of places, and only those are reckoned with.
// For even, the ends are worked out again for each share that is tried: with few of
// the numbers in use, near to where the longest boxes are used, until a share is
// found that will do, and then once with all, for the next smaller. At last each
// place is looked at, with the ends that a box can have: where boxes are alike no two
// of those stretches overlap, and the cost is a box of copies for each; where lengths
// differ they are short, but as many as there are boxes to spare.
// For least moved it is a band around each wall as what stands is pushed on,
// which is widened fourfold until a bound on all splits outside the bands shows that
// they move more: boxes times the width, and n log n for what is in order. Where that
// would take too long, since nearly nothing is in order or all boxes spill, the
// plan's findings say what was not looked at.
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
