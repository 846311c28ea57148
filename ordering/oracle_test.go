package ordering_test

import (
	"fmt"
	"slices"
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
)

// What follows says anew which cards stand where, by the definitions and by
// trying everything.

// call is a card that is called for.
type call struct {
	kind ordering.CardKind
	text string
}

// calls is what a row calls for, wherever boxes begin in it.
type calls struct {
	before map[model.Accession][]call
	own    map[string]bool // publishers that have a card, by houseKey
}

func sectionTitle(c *model.Collection, a model.Accession) string {
	title, _ := sectionOf(c, a)
	switch {
	case title != "":
		return title
	case len(c.Shelf().Sections) == 0:
		return "All patterns"
	}
	return "All others"
}

func houseKey(c *model.Collection, a model.Accession) string {
	return fmt.Sprint(sectionTitle(c, a), "/", c.PatternOf(a).Publisher)
}

func publisherName(c *model.Collection, a model.Accession) string {
	return c.Publisher(c.PatternOf(a).Publisher).Name
}

// callsOf says what a row calls for.
func callsOf(c *model.Collection, row []model.Accession) calls {
	out := calls{map[model.Accession][]call{}, map[string]bool{}}
	set, houses, members := c.Shelf().Settings, map[string]map[string]bool{}, map[string][]model.Accession{}
	for _, a := range row {
		title, house := sectionTitle(c, a), houseKey(c, a)
		if houses[title] == nil {
			houses[title] = map[string]bool{}
		}
		houses[title][house] = true
		members[house] = append(members[house], a)
	}
	sections := map[string]bool{}
	for _, a := range row {
		title, house := sectionTitle(c, a), houseKey(c, a)
		if !sections[title] {
			sections[title] = true
			out.before[a] = append(out.before[a], call{ordering.SectionCard, title})
		}
		if from := set.PublisherCardFrom; from > 0 && len(houses[title]) > 1 && len(members[house]) >= from && members[house][0] == a {
			out.own[house] = true
			out.before[a] = append(out.before[a], call{ordering.PublisherCard, publisherName(c, a)})
		}
	}
	for _, m := range members {
		for a, text := range rangeCalls(c, m, set.RangeCardEvery) {
			out.before[a] = append(out.before[a], call{ordering.RangeCard, text})
		}
	}
	return out
}

// at gives the cards before a copy; at a head there is always one.
func (s calls) at(c *model.Collection, a model.Accession, head bool) []call {
	cards := s.before[a]
	if !head || len(cards) > 0 && cards[0].kind == ordering.SectionCard {
		return cards
	}
	text := sectionTitle(c, a)
	if begins := len(cards) > 0 && cards[0].kind == ordering.PublisherCard; s.own[houseKey(c, a)] && !begins {
		text += ": " + publisherName(c, a)
	}
	return append([]call{{ordering.ContinuedCard, text + " (continued)"}}, cards...)
}

// rated is a way to set range cards: lower is better, member by member.
type rated struct {
	excess, cards, round int
	places               []int
}

func (a rated) better(b rated) bool {
	switch {
	case a.excess != b.excess:
		return a.excess < b.excess
	case a.cards != b.cards:
		return a.cards < b.cards
	case a.round != b.round:
		return a.round > b.round
	}
	return slices.Compare(a.places, b.places) > 0 // further back
}

// rangeCalls tries every set of places for range cards in a stretch.
func rangeCalls(c *model.Collection, members []model.Accession, every int) map[model.Accession]string {
	scheme := c.Publisher(c.PatternOf(members[0]).Publisher).Numbers
	var with []model.Accession
	var numbers []model.Number
	for _, a := range members {
		if n := model.ParseNumber(c.PatternOf(a).Number, scheme); len(n.Parts) > 0 {
			with, numbers = append(with, a), append(numbers, n)
		}
	}
	if every == 0 || len(with) == 0 {
		return nil
	}
	texts, rounds := make([]string, len(with)), make([]int, len(with))
	for i := range with {
		if i > 0 {
			texts[i], rounds[i] = roundest(numbers[i-1], numbers[i], scheme)
		}
	}
	best := bestOfAll
	if len(with) > 12 {
		best = bestOfMany
	}
	out := map[model.Accession]string{}
	for _, i := range best(texts, rounds, every).places {
		out[with[i]] = texts[i]
	}
	return out
}

// bestOfAll tries all sets of places; those with no text can have no card.
func bestOfAll(texts []string, rounds []int, every int) rated {
	best := rated{excess: 1 << 30}
	for set := range 1 << (len(texts) - 1) { // bit i-1: a card before the one at i
		way, last, possible := rated{}, 0, true
		for i := 1; i <= len(texts); i++ {
			if i < len(texts) && set&(1<<(i-1)) == 0 {
				continue
			}
			way.excess += max(0, i-last-every)
			last = i
			if i < len(texts) {
				possible = possible && texts[i] != ""
				way.cards, way.round, way.places = way.cards+1, way.round+rounds[i], append(way.places, i)
			}
		}
		if possible && way.better(best) {
			best = way
		}
	}
	return best
}

// bestOfMany is for rows too long to try all sets: it tries, from the back, every
// end of every group, with the best of what comes behind it.
func bestOfMany(texts []string, rounds []int, every int) rated {
	n := len(texts)
	best := make([]rated, n+1) // of what stands from there on
	for i := n - 1; i >= 0; i-- {
		best[i] = rated{excess: max(0, n-i-every)}
		for j := i + 1; j < n; j++ {
			if texts[j] == "" {
				continue
			}
			behind := best[j]
			way := rated{behind.excess + max(0, j-i-every), behind.cards + 1, behind.round + rounds[j], append([]int{j}, behind.places...)}
			if way.better(best[i]) {
				best[i] = way
			}
		}
	}
	return best[0]
}

// roundest tries every number that a card between two could say.
func roundest(a, b model.Number, scheme model.Scheme) (text string, round int) {
	prefix := ""
	if scheme == model.PrefixFirst {
		if prefix = b.Prefix; a.Prefix > b.Prefix {
			return "", 0
		} else if a.Prefix < b.Prefix {
			return prefix, 2 * len(b.Parts[0])
		}
	}
	var low, high int
	fmt.Sscan(a.Parts[0], &low)
	fmt.Sscan(b.Parts[0], &high)
	round = -1
	for r := low + 1; r <= high; r++ {
		if how := roundness(r); how >= round {
			text, round = prefix+fmt.Sprint(r), how
		}
	}
	return text, round
}

// roundness is two for each zero at the end, and one more for a 5 before them.
func roundness(r int) int {
	digits := fmt.Sprint(r)
	bare := strings.TrimRight(digits, "0")
	how := 2 * (len(digits) - len(bare))
	if strings.HasSuffix(bare, "5") {
		how++
	}
	return how
}

// checkCards compares the cards before a copy with what is called for.
func checkCards(t failer, c *model.Collection, p ordering.Placed, want []call) {
	t.Helper()
	if got := callsIn(p); !slices.Equal(got, want) {
		t.Fatalf("copy %d stands behind cards %q, want %q", p.Copy, got, want)
	}
	for _, card := range p.Cards {
		if card.Before != p.Copy || card.Thickness != c.Shelf().Settings.Divider {
			t.Fatalf("card %+v stands before copy %d", card, p.Copy)
		}
	}
}

func callsIn(p ordering.Placed) []call {
	var out []call
	for _, card := range p.Cards {
		out = append(out, call{card.Kind, card.Text})
	}
	return out
}

// longestRuns gives every longest run of what rises in a row, as indices.
func longestRuns(ranks []int) [][]int {
	best := make([]int, len(ranks)) // the longest that ends there
	most := 0
	for i := range ranks {
		best[i] = 1
		for j := range i {
			if ranks[j] < ranks[i] {
				best[i] = max(best[i], best[j]+1)
			}
		}
		most = max(most, best[i])
	}
	var out [][]int
	var back func(run []int)
	back = func(run []int) {
		if best[run[0]] == 1 {
			out = append(out, run)
			return
		}
		for j := range run[0] {
			if ranks[j] < ranks[run[0]] && best[j] == best[run[0]]-1 {
				back(append([]int{j}, run...))
			}
		}
	}
	for i := range ranks {
		if best[i] == most {
			back([]int{i})
		}
	}
	if len(out) == 0 {
		out = [][]int{{}}
	}
	return out
}

// choices gives every choice of what stands in order, box by box: a longest run
// over all boxes, but a longest run of its own in a box of which less than half
// of that belongs to it.
func choices(c *model.Collection, row []model.Accession) [][][]model.Accession {
	boxes := c.Shelf().Boxes
	var all []model.Accession
	var ranks, in []int
	for i, b := range boxes {
		for _, a := range c.Row(b.ID) {
			if r := slices.Index(row, a); r >= 0 {
				all, ranks, in = append(all, a), append(ranks, r), append(in, i)
			}
		}
	}
	var out [][][]model.Accession
	for _, run := range longestRuns(ranks) {
		ways := [][][]model.Accession{{}}
		for i := range boxes {
			from := slices.Index(in, i)
			if from < 0 {
				from = 0
			}
			var share, inBox []int
			for k := range all {
				if in[k] == i {
					inBox = append(inBox, ranks[k])
					if slices.Contains(run, k) {
						share = append(share, k-from)
					}
				}
			}
			these := longestRuns(inBox)
			if 2*len(share) >= len(these[0]) {
				these = [][]int{share}
			}
			var more [][][]model.Accession
			for _, way := range ways {
				for _, this := range these {
					var items []model.Accession
					for _, k := range this {
						items = append(items, all[from+k])
					}
					more = append(more, append(slices.Clone(way), items))
				}
			}
			ways = more
		}
		out = append(out, ways...)
	}
	return out
}

// checkStanding finds a choice of what stands in order by which the cards in the
// boxes are those that are called for.
func checkStanding(t failer, l *ordering.Layout) {
	t.Helper()
	c, reported := l.Collection(), map[model.Accession][]call{}
	for _, h := range l.Standing() {
		for _, p := range h.Items {
			if cards := callsIn(p); cards != nil {
				reported[p.Copy] = cards
			}
		}
	}
	var wants []map[model.Accession][]call
	for _, boxes := range choices(c, accessions(l.Row())) {
		want := map[model.Accession][]call{}
		s := callsOf(c, slices.Concat(boxes...))
		for _, items := range boxes {
			for i, a := range items {
				if cards := s.at(c, a, i == 0 || sectionTitle(c, a) != sectionTitle(c, items[i-1])); len(cards) > 0 {
					want[a] = cards
				}
			}
		}
		if fmt.Sprint(want) == fmt.Sprint(reported) {
			return
		}
		wants = append(wants, want)
	}
	t.Fatalf("the boxes stand with cards %v, want one of %v", reported, wants)
}
