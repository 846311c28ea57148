package ordering_test

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
)

// drawNumbered draws copies of one publisher, with numbers near enough to each
// other that some are alike.
func drawNumbered(t *rapid.T) (model.ShelfSpec, *model.Add) {
	shelf, add := bareShelf(1000), &model.Add{}
	shelf.Settings.RangeCardEvery = rapid.IntRange(1, 5).Draw(t, "every")
	shelf.Settings.Divider = model.MM(1)
	scheme := rapid.SampledFrom([]model.Scheme{model.Consecutive, model.PrefixFirst, model.Issue}).Draw(t, "scheme")
	shelf.Publishers = []model.PublisherSpec{{Name: "Quillon", Numbers: scheme}}
	most := rapid.SampledFrom([]int{6, 30, 1200, 20_000}).Draw(t, "highest")
	for range rapid.IntRange(1, 11).Draw(t, "copies") {
		number := rapid.SampledFrom([]string{"", "", "K", "M-", "0"}).Draw(t, "prefix") + fmt.Sprint(rapid.IntRange(0, most).Draw(t, "number")) +
			rapid.SampledFrom([]string{"", "", "A", " H5", "/3"}).Draw(t, "suffix")
		en := entry("Quillon", number, 1)
		if rapid.IntRange(0, 9).Draw(t, "named") == 0 {
			en = model.Entry{Publisher: "Quillon", Name: "Cape", Thickness: model.MM(1)}
		}
		add.Entries = append(add.Entries, en)
	}
	return shelf, add
}

// No other places for range cards are better: fewest too many together, then
// fewest cards, then roundest, then furthest back, by trying all.
func TestRangeCardsAreTheBestThereAre(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		shelf, add := drawNumbered(t)
		c := do(t, model.NewCollection(), &model.SetShelf{Spec: shelf}, add)
		l := ordering.Arrange(c)
		checkPlan(t, c, accessions(l.Row()), l.Split(ordering.Fewest))
	})
}

// The same over many, where trying all takes too long: every group is as small
// as it can be, every card says a number that parts its neighbours, and there
// are no more cards than setting each as far back as it can be takes.
func TestRangeCardsInALongRun(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		shelf := bareShelf(1000)
		every := rapid.IntRange(1, 40).Draw(t, "every")
		shelf.Settings.RangeCardEvery = every
		most := rapid.SampledFrom([]int{9, 99, 9999}).Draw(t, "highest")
		var numbers []int
		add := &model.Add{}
		for range rapid.IntRange(1, 300).Draw(t, "copies") {
			n := rapid.IntRange(0, most).Draw(t, "number")
			numbers = append(numbers, n)
			add.Entries = append(add.Entries, entry("Quillon", fmt.Sprint(n), 1))
		}
		slices.Sort(numbers)
		h := ordering.Arrange(do(t, model.NewCollection(), &model.SetShelf{Spec: shelf}, add)).Split(ordering.Fewest).Boxes[0]
		from, cards := 0, 0
		for i := 1; i <= len(numbers); i++ {
			if i < len(numbers) && len(h.Items[i].Cards) == 0 {
				continue
			}
			if alike := numbers[from] == numbers[i-1]; i-from > every && !alike {
				t.Fatalf("%d numbers from %d to %d are together, and every %d there is to be a card", i-from, numbers[from], numbers[i-1], every)
			}
			if i < len(numbers) {
				var r int
				fmt.Sscan(h.Items[i].Cards[0].Text, &r)
				if numbers[i-1] >= r || r > numbers[i] {
					t.Fatalf("a card says %d between %d and %d", r, numbers[i-1], numbers[i])
				}
				cards++
			}
			from = i
		}
		if want := fewestCards(numbers, every); cards != want {
			t.Fatalf("%d cards among %v, want %d", cards, numbers, want)
		}
	})
}

// fewestCards sets each card as far back as it can be. Reaching further never
// needs more, so it is the fewest.
func fewestCards(numbers []int, every int) int {
	cards := -1
	for from := 0; from < len(numbers); cards++ {
		to := min(from+every, len(numbers))
		for to > from && to < len(numbers) && numbers[to] == numbers[to-1] {
			to--
		}
		if to == from { // all alike: they stay together
			for to = from + 1; to < len(numbers) && numbers[to] == numbers[from]; to++ {
			}
		}
		from = to
	}
	return cards
}

// What a card says, by the rule that is written at its definition.
func TestRangeCardText(t *testing.T) {
	long := strings.Repeat("7", 40)
	for _, c := range []struct {
		below, above, want string
		scheme             model.Scheme
	}{
		{"4893", "5012", "5000", ""}, {"4999", "5000", "5000", ""}, {"5000", "5001", "5001", ""},
		{"4310", "4893", "4500", ""}, {"4110", "4893", "4500", ""}, {"3990", "4893", "4000", ""},
		{"500", "943", "900", ""}, {"98", "943", "500", ""}, {"98", "143", "100", ""}, {"7", "12", "10", ""},
		{"4", "9", "5", ""}, {"5", "9", "9", ""}, {"0", "4", "4", ""}, {"0", "1", "1", ""},
		{"6123", "6130 H5", "6130", ""}, {"K499", "M-510", "500", ""},
		{"499", "K510", "K", model.PrefixFirst}, {"J9", "K510", "K", model.PrefixFirst}, {"K499", "K-510", "K500", model.PrefixFirst},
		{"12/1975 4", "1/1984 112", "1980", model.Issue}, {"33/5", "41/2", "40", model.BookPage},
		{long, long[:39] + "8", long[:39] + "8", ""}, {"3", long, "5" + strings.Repeat("0", 39), ""},
	} {
		shelf := bareShelf(1000)
		shelf.Settings.RangeCardEvery = 1
		shelf.Publishers = []model.PublisherSpec{{Name: "Quillon", Numbers: c.scheme}}
		l := ordering.Arrange(do(t, model.NewCollection(), &model.SetShelf{Spec: shelf},
			&model.Add{Entries: []model.Entry{entry("Quillon", c.below, 1), entry("Quillon", c.above, 1)}}))
		h := l.Split(ordering.Fewest).Boxes[0]
		if cards := h.Items[1].Cards; len(cards) != 1 || cards[0].Text != c.want || cards[0].Kind != ordering.RangeCard {
			t.Errorf("between %s and %s stands %v, want a card %q", c.below, c.above, cards, c.want)
		}
	}
}

// Numbers that are alike get no card between them.
func TestNoRangeCardBetweenOnesThatAreAlike(t *testing.T) {
	shelf := bareShelf(1000)
	shelf.Settings.RangeCardEvery = 1
	for _, pair := range [][2]string{{"7", "007"}, {"12", "12 H5"}, {"103", "103A"}, {"9/2", "9/5"}, {"K7", "M7"}, {"x", "y"}, {"9", "x"}} {
		l := ordering.Arrange(do(t, model.NewCollection(), &model.SetShelf{Spec: shelf},
			&model.Add{Entries: []model.Entry{entry("Quillon", pair[0], 1), entry("Quillon", pair[1], 1)}}))
		h := l.Split(ordering.Fewest).Boxes[0]
		if cards := h.Cards(); len(cards) != 1 {
			t.Errorf("%s and %s stand behind %v, want the section's card alone", pair[0], pair[1], cards)
		}
	}
}

// cardCase is one case of testdata/cards.txt, which says how it is written.
type cardCase struct {
	name   string
	shelf  model.ShelfSpec
	add    model.Add
	stand  model.Stand
	expect []expectation
}

func TestCards(t *testing.T) {
	text, err := os.ReadFile("testdata/cards.txt")
	if err != nil {
		t.Fatal(err)
	}
	var cases []*cardCase
	for i, line := range strings.Split(string(text), "\n") {
		if line = strings.TrimSpace(line); line == "" || line[0] == '#' {
			continue
		}
		word, rest, ok := strings.Cut(line, ":")
		if rest = strings.Join(strings.Fields(rest), " "); !ok || rest == "" {
			t.Fatalf("line %d: %q says nothing; write a word, a colon, and what is said", i+1, line)
		}
		if word == "case" {
			cases = append(cases, &cardCase{name: rest, shelf: bareShelf()})
		} else if len(cases) == 0 {
			t.Fatalf("line %d: %q comes before the first case", i+1, line)
		} else if err := cases[len(cases)-1].read(i+1, word, rest); err != nil {
			t.Fatalf("line %d: %v", i+1, err)
		}
	}
	for _, c := range cases {
		t.Run(c.name, c.check)
	}
}

func (c *cardCase) read(line int, word, rest string) (err error) {
	name, value, _ := strings.Cut(rest, " = ")
	switch word {
	case "boxes":
		for _, mm := range strings.Fields(rest) {
			l, err := model.ParseLength(mm)
			if err != nil {
				return err
			}
			c.shelf.Boxes = append(c.shelf.Boxes, model.BoxSpec{Name: fmt.Sprint(len(c.shelf.Boxes) + 1), Length: l})
		}
	case "divider":
		c.shelf.Settings.Divider, err = model.ParseLength(rest)
	case "publisher cards from":
		_, err = fmt.Sscan(rest, &c.shelf.Settings.PublisherCardFrom)
	case "range cards every":
		_, err = fmt.Sscan(rest, &c.shelf.Settings.RangeCardEvery)
	case "section":
		c.shelf.Sections = append(c.shelf.Sections, model.SectionSpec{Title: name, Publishers: strings.Split(value, ", ")})
	case "numbers":
		c.shelf.Publishers = append(c.shelf.Publishers, model.PublisherSpec{Name: name, Numbers: model.Scheme(value)})
	case "row":
		for _, number := range strings.Split(value, ", ") {
			en := entry(name, number, 1)
			if number[0] >= 'A' && !strings.ContainsAny(number, "0123456789") {
				en.Number, en.Name = "", number
			}
			c.add.Entries = append(c.add.Entries, en)
		}
	case "stands":
		row := model.NamedRow{Box: name}
		for _, what := range strings.Split(value, ", ") {
			i := slices.IndexFunc(c.add.Entries, func(en model.Entry) bool { return en.Publisher+" "+en.Number+en.Name == what })
			if i < 0 {
				return fmt.Errorf("no row above has %q; write a publisher and a number or name", what)
			}
			row.Copies = append(row.Copies, model.Accession(i+1))
		}
		c.stand.Rows = append(c.stand.Rows, row)
	case "planned", "standing":
		c.expect = append(c.expect, expectation{line, word, rest})
	default:
		err = fmt.Errorf("the word %q is not known", word)
	}
	return err
}

func (c *cardCase) check(t *testing.T) {
	if len(c.expect) == 0 {
		t.Fatal("nothing is expected of it")
	}
	cupboard := do(t, model.NewCollection(), &model.SetShelf{Spec: c.shelf}, &c.add, &c.stand)
	l, _ := askAll(t, cupboard)
	for _, e := range c.expect {
		boxes := l.Split(ordering.Fewest).Boxes
		if e.what == "standing" {
			boxes = l.Standing()
		}
		if got := seen(boxes); got != e.want {
			t.Errorf("line %d: %s is\n%s\nexpected\n%s", e.line, e.what, got, e.want)
		}
	}
}

// seen is what one sees from front to back: cards in brackets, envelopes by
// number or name.
func seen(boxes []ordering.Holding) string {
	var out []string
	for i := range boxes {
		var box []string
		for _, p := range boxes[i].Items {
			for _, card := range p.Cards {
				box = append(box, "["+card.Text+"]")
			}
			box = append(box, p.Pattern.Number+p.Pattern.Name)
		}
		if box == nil {
			box = []string{"-"}
		}
		out = append(out, strings.Join(box, " "))
	}
	return strings.Join(out, " | ")
}

// A newcomer stands behind the cards that are its own and before those of what
// comes next.
func TestGapForAmongCards(t *testing.T) {
	shelf := bareShelf(380)
	shelf.Settings.Divider, shelf.Settings.PublisherCardFrom, shelf.Settings.RangeCardEvery = model.MM(1), 2, 2
	shelf.Sections = []model.SectionSpec{{Title: "Inherited", Tags: []string{"old"}}, {Title: "Small houses", Publishers: []string{"*"}}, {Title: "Printed", Tags: []string{"new"}}}
	add := &model.Add{Entries: []model.Entry{entry("Ostrimel", "1", 1), entry("Quillon", "100", 1), entry("Quillon", "205", 1), entry("Quillon", "310", 1), entry("Quillon", "400", 1)}}
	for i := range add.Entries {
		add.Entries[i].Box = "1"
	}
	l := ordering.Arrange(do(t, model.NewCollection(), &model.SetShelf{Spec: shelf}, add))
	if got, want := seen(l.Standing()), "[Small houses] 1 [Quillon] 100 205 [300] 310 400"; got != want {
		t.Fatalf("there stands %s, want %s", got, want)
	}
	for _, c := range []struct {
		publisher string
		p         model.Pattern
		want      float64
	}{
		{"Ostrimel", model.Pattern{Number: "0"}, 1},                           // behind the section's card
		{"Ostrimel", model.Pattern{Number: "2"}, 2},                           // before that of the next publisher
		{"Pellmond", model.Pattern{Number: "7"}, 2},                           // likewise, not on the list yet
		{"Quillon", model.Pattern{Number: "50"}, 3},                           // behind its publisher's card
		{"Quillon", model.Pattern{Number: "250"}, 5},                          // before the card with a higher number
		{"Quillon", model.Pattern{Number: "300"}, 6},                          // behind the one with its own
		{"Quillon", model.Pattern{Name: "Cape"}, 8},                           // at the end
		{"Quillon", model.Pattern{Number: "9", Tags: []string{"old"}}, 1},     // before all, behind a card of its own
		{"Zz Umbrow", model.Pattern{Number: "9", Tags: []string{"other"}}, 8}, // behind all
		{"Zz Umbrow", model.Pattern{Number: "9", Tags: []string{"new"}}, 9},   // likewise, behind a card of its own
	} {
		if g := l.GapFor(c.publisher, &c.p); g.FromFront != model.MM(c.want) {
			t.Errorf("%s %s%s: %v from the front, want %v mm", c.publisher, c.p.Number, c.p.Name, g.FromFront, c.want)
		}
	}
	// Where one is enough, it has its publisher's card too.
	shelf.Settings.PublisherCardFrom = 1
	l = ordering.Arrange(do(t, l.Collection(), &model.SetShelf{Spec: shelf}))
	if got, want := seen(l.Standing()), "[Small houses] [Ostrimel] 1 [Quillon] 100 205 [300] 310 400"; got != want {
		t.Fatalf("there stands %s, want %s", got, want)
	}
	if g := l.GapFor("Pellmond", &model.Pattern{Number: "7"}); g.FromFront != model.MM(4) {
		t.Errorf("a new publisher's first is %v from the front, want 4 mm, behind its own card", g.FromFront)
	}
}

// A card that says a prefix alone stands behind what has none.
func TestGapForBeforeACardOfAPrefix(t *testing.T) {
	shelf := bareShelf(380)
	shelf.Settings.Divider, shelf.Settings.RangeCardEvery = model.MM(1), 1
	shelf.Publishers = []model.PublisherSpec{{Name: "Quillon", Numbers: model.PrefixFirst}}
	add := &model.Add{Entries: []model.Entry{entry("Quillon", "7", 1), entry("Quillon", "K5", 1)}}
	for i := range add.Entries {
		add.Entries[i].Box = "1"
	}
	l := ordering.Arrange(do(t, model.NewCollection(), &model.SetShelf{Spec: shelf}, add))
	if got, want := seen(l.Standing()), "[All patterns] 7 [K] K5"; got != want {
		t.Fatalf("there stands %s, want %s", got, want)
	}
	for number, mm := range map[string]float64{"9": 2, "J9": 2, "K1": 3, "K4": 3, "K6": 4} {
		if g := l.GapFor("Quillon", &model.Pattern{Number: number}); g.FromFront != model.MM(mm) {
			t.Errorf("%s: %v from the front, want %v mm", number, g.FromFront, mm)
		}
	}
}

// The two ways in which tests find the best places agree.
func TestBestOfManyIsBestOfAll(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		texts, rounds := []string{""}, []int{0}
		for range rapid.IntRange(0, 9).Draw(t, "more") {
			texts = append(texts, rapid.SampledFrom([]string{"", "a card", "a card"}).Draw(t, "text"))
			rounds = append(rounds, rapid.IntRange(0, 5).Draw(t, "round"))
		}
		every := rapid.IntRange(1, 4).Draw(t, "every")
		if all, many := bestOfAll(texts, rounds, every), bestOfMany(texts, rounds, every); !slices.Equal(all.places, many.places) {
			t.Fatalf("of all: %v, of many: %v", all, many)
		}
	})
}
