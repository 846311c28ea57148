package ordering

import (
	"cmp"
	"hash/crc32"
	"strings"

	"example.org/tuckrow/model"
)

// numbered is what range cards go by: the first group of digits of a number, by
// value, and before it the letter prefix where that is filed. It has no value
// where there are no digits.
type numbered struct{ prefix, value string }

func firstOf(n model.Number, scheme model.Scheme) numbered {
	var f numbered
	if scheme == model.PrefixFirst {
		f.prefix = n.Prefix
	}
	if len(n.Parts) > 0 {
		f.value = n.Parts[0]
	}
	return f
}

func (a numbered) compare(b numbered) int {
	return cmp.Or(cmp.Compare(a.prefix, b.prefix), cmp.Compare(len(a.value), len(b.value)), cmp.Compare(a.value, b.value))
}

// mark is the same for the same digits, so that most numbers can be told apart
// without going to where they lie in memory.
func (a numbered) mark() uint32 { return crc32.ChecksumIEEE([]byte(a.value)) }

// rangeCard is a card that can stand before a number.
type rangeCard struct {
	at    int // index of that number
	kept  int // how many of its digits the card keeps; the rest are zeros
	half  bool
	round int
}

// between gives the roundest card R that can stand between two numbers: the
// first is lower than R, the second not. A multiple of 10 counts 2, of 100
// counts 4 and so on, and a multiple of 5, 50, 500 that is no such counts one
// less than the next of those: 5000 (7) before 1000 (6) before 500 (5) before
// 100 (4). Of those that are alike, the highest: what comes behind it is
// nearest to what it says. Between two prefixes it says the prefix, which
// counts more than any number that could stand there.
func between(a, b numbered) (rangeCard, bool) {
	n, pad := len(b.value), len(b.value)-len(a.value)
	switch {
	case a.compare(b) >= 0:
		return rangeCard{}, false
	case a.prefix != b.prefix:
		return rangeCard{round: 2 * n}, true
	}
	// Where the digits first differ, a with zeros in front, decides how many
	// zeros there can be: with fewer digits kept, R would not be above a.
	for j := range n {
		low := byte('0')
		if j >= pad {
			low = a.value[j-pad]
		}
		if high := b.value[j]; low != high {
			c := rangeCard{kept: j + 1, round: 2 * (n - 1 - j), half: low < '5' && high >= '5'}
			c.round += b2i(c.half)
			return c, true
		}
	}
	return rangeCard{}, false
}

// text is what the card says that stands before a number.
func (c rangeCard) text(b numbered) string {
	if c.kept == 0 {
		return b.prefix
	}
	digits := b.value[:c.kept]
	if c.half {
		digits = digits[:c.kept-1] + "5"
	}
	return b.prefix + digits + strings.Repeat("0", len(b.value)-c.kept)
}

// rangeCards sets the range cards of a stretch. What has no number files behind
// the others and needs none.
func (d *deck) rangeCards(s stretch, every int) {
	items, numbers := make([]*Item, 0, len(s.items)), make([]numbered, 0, len(s.items))
	for _, it := range s.items {
		if it.first.value != "" {
			items, numbers = append(items, it), append(numbers, it.first)
		}
	}
	for _, card := range placeCards(numbers, every) {
		d.ranges[items[card.at].Copy] = card.text(numbers[card.at])
	}
}

// placeCards chooses where range cards stand among numbers, so that no more
// than every are together: the fewest cards; of these ways the one whose cards
// are roundest, counted together; of these again the one whose first card is
// furthest back, then the second, and so on. Numbers that no card can part stay
// together; when they are more than that, nothing else is with them.
//
// It goes over the places where a card can be from the last to the first, and
// keeps where the group that begins there best ends. Ends within reach are in a
// queue, cheapest first, of which each place enters and leaves once: the cost
// is one step a number.
func placeCards(numbers []numbered, every int) []rangeCard {
	const card int64 = 1 << 40 // one card less counts more than all roundness there can be
	places := make([]rangeCard, 1, len(numbers)+1)
	for i := 1; i < len(numbers); i++ {
		if c, ok := between(numbers[i-1], numbers[i]); ok {
			c.at = i
			places = append(places, c)
		}
	}
	n := len(places)
	places = append(places, rangeCard{at: len(numbers)})
	cost, end, queue := make([]int64, n+1), make([]int, n), append(make([]int, 0, n+1), n)
	for k := n - 1; k >= 0; k-- {
		for len(queue) > 0 && places[queue[0]].at-places[k].at > every {
			queue = queue[1:]
		}
		if len(queue) == 0 { // more of one number than should be together
			queue = append(queue, k+1)
		}
		end[k] = queue[0]
		cost[k] = cost[end[k]] + card - int64(places[k].round)
		for len(queue) > 0 && cost[queue[len(queue)-1]] > cost[k] {
			queue = queue[:len(queue)-1]
		}
		queue = append(queue, k)
	}
	var out []rangeCard
	for k := end[0]; k < n; k = end[k] {
		out = append(out, places[k])
	}
	return out
}
