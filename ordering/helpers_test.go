package ordering_test

import (
	"fmt"
	"slices"
	"strings"

	"pgregory.net/rapid"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
)

const day model.Date = "2026-03-01"

// failer is what *testing.T, *testing.B and *rapid.T share.
type failer interface {
	Helper()
	Fatalf(format string, args ...any)
}

// do applies changes one after another and fails the test when one is refused.
func do(t failer, c *model.Collection, changes ...model.Change) *model.Collection {
	t.Helper()
	for _, ch := range changes {
		next, _, err := c.Apply(ch, day)
		if err != nil {
			t.Fatalf("%s: %v", ch.Title(c), err)
		}
		if err := next.Check(); err != nil {
			t.Fatalf("%s: %v", ch.Title(c), err)
		}
		c = next
	}
	return c
}

// bareShelf has boxes of so many millimetres, named "1", "2" and so on, no
// working space, and dividers that take no room, none of publishers or ranges.
func bareShelf(lengths ...float64) model.ShelfSpec {
	s := model.ShelfSpec{Settings: model.DefaultSettings()}
	s.Settings.Working, s.Settings.Divider = model.Space{}, 0
	s.Settings.RangeCardEvery, s.Settings.PublisherCardFrom = 0, 0
	for i, mm := range lengths {
		s.Boxes = append(s.Boxes, model.BoxSpec{Name: fmt.Sprint(i + 1), Length: model.MM(mm)})
	}
	return s
}

func entry(publisher, number string, mm float64) model.Entry {
	return model.Entry{Publisher: publisher, Number: number, Thickness: model.MM(mm)}
}

func accessions(row []*ordering.Item) []model.Accession {
	out := make([]model.Accession, len(row))
	for i, it := range row {
		out[i] = it.Copy
	}
	return out
}

// contents is what a plan wants in each box.
func contents(p ordering.Plan) [][]model.Accession {
	var out [][]model.Accession
	for i := range p.Boxes {
		out = append(out, p.Boxes[i].Contents())
	}
	return out
}

// The publishers of random collections, invented. The last is on no list until
// it is needed.
var houses = []string{"Harrow & Pell", "Quillon", "Ostrimel", "Tallowby", "harrow and pell", "Zz Umbrow"}

func drawEntry(t *rapid.T) model.Entry {
	en := model.Entry{
		Publisher: rapid.SampledFrom(houses[:4]).Draw(t, "publisher"),
		Number:    rapid.SampledFrom([]string{"", "7", "07", "K7", "12", "12 H5", "103A", "9/2", "x"}).Draw(t, "number"),
		Name:      rapid.SampledFrom([]string{"Cape", "cape", "Wrap dress", "Wrap-dress 2"}).Draw(t, "name"),
		SizeRange: rapid.SampledFrom([]string{"", "8-14", "10-16"}).Draw(t, "size"),
		Year:      rapid.SampledFrom([]int{0, 1961, 1975}).Draw(t, "year"),
		Thickness: model.MM(float64(rapid.IntRange(0, 9).Draw(t, "mm"))),
	}
	if rapid.IntRange(0, 3).Draw(t, "tagged") == 0 {
		en.Tags = []string{"Old"}
	}
	switch rapid.IntRange(0, 7).Draw(t, "medium") {
	case 0:
		en.Medium = model.Printed // hangs where there are hooks
	case 1:
		en.Home = model.HomeHook
	case 2:
		en.Home = model.HomeOversize // a dummy stands for it
	}
	return en
}

// roomy are boxes that never spill; mixed are boxes that do.
func roomy(t *rapid.T) model.Length { return model.MM(1000) }
func mixed(t *rapid.T) model.Length {
	return model.MM(float64(rapid.SampledFrom([]int{2, 5, 8, 10, 10, 14, 20, 30}).Draw(t, "length")))
}

func drawShelf(t *rapid.T, maxBoxes int, length func(*rapid.T) model.Length, newBoxes bool) model.ShelfSpec {
	s := bareShelf()
	s.Settings.Divider = model.MM(float64(rapid.IntRange(0, 2).Draw(t, "divider")))
	s.Settings.PublisherCardFrom = rapid.IntRange(0, 3).Draw(t, "publisher cards")
	s.Settings.RangeCardEvery = rapid.SampledFrom([]int{0, 1, 2, 3, 20}).Draw(t, "range cards")
	s.Settings.Working = rapid.SampledFrom([]model.Space{{}, {Fixed: model.MM(1)}, {Percent: 15}}).Draw(t, "working space")
	s.Settings.Thickness = model.Thickness{Uncut: model.MM(1), Cut: model.MM(2), Bulky: model.MM(4)}
	for i := range rapid.IntRange(0, maxBoxes).Draw(t, "boxes") {
		s.Boxes = append(s.Boxes, model.BoxSpec{Name: string(rune('a' + i)), Length: length(t)})
	}
	if rapid.Bool().Draw(t, "hooks") {
		s.Hooks = []model.HookSpec{{Name: "door", Hooks: 4, Each: 3}}
	}
	sections := []model.SectionSpec{
		{Title: "Small houses", Publishers: []string{"Quillon", "Ostrimel"}},
		{Title: "Inherited", Tags: []string{"old"}},
		{Title: "The rest", Publishers: []string{"*"}},
	}
	sections = rapid.Permutation(sections).Draw(t, "sections")[:rapid.IntRange(0, 3).Draw(t, "sections used")]
	for i := range sections {
		sections[i].NewBox = newBoxes && rapid.Bool().Draw(t, "new box")
	}
	s.Sections = sections
	if rapid.IntRange(0, 2).Draw(t, "schemes") == 0 {
		s.Publishers = []model.PublisherSpec{
			{Name: "Harrow & Pell", Numbers: rapid.SampledFrom([]model.Scheme{model.PrefixFirst, model.Unnumbered, model.Issue}).Draw(t, "scheme")},
			{Name: "Quillon", FilesAs: "Tallowby"},
		}
	}
	return s
}

// drawStands stands some copies in boxes at random, and leaves the rest on the
// pile. What belongs on a hook may stand in a box too.
func drawStands(t *rapid.T, c *model.Collection) model.Change {
	boxes := c.Shelf().Boxes
	ch := &model.Stand{}
	for _, b := range boxes {
		ch.Rows = append(ch.Rows, model.NamedRow{Box: b.Name})
	}
	var all []model.Accession
	for _, cp := range c.Copies().All() {
		all = append(all, cp.Accession)
	}
	if len(boxes) == 0 || len(all) == 0 {
		return ch
	}
	for _, a := range rapid.Permutation(all).Draw(t, "order") {
		if i := rapid.IntRange(-1, len(boxes)-1).Draw(t, "box"); i >= 0 {
			ch.Rows[i].Copies = append(ch.Rows[i].Copies, a)
		}
	}
	return ch
}

func drawCollection(t *rapid.T, maxCopies int, shelf model.ShelfSpec) *model.Collection {
	c := do(t, model.NewCollection(), &model.SetShelf{Spec: shelf})
	add := &model.Add{}
	for range rapid.IntRange(0, maxCopies).Draw(t, "copies") {
		add.Entries = append(add.Entries, drawEntry(t))
	}
	return do(t, c, add)
}

// What follows works out anew, straight from the collection, what the engine
// says.

// sectionOf gives a pattern's section and whether that section begins a box.
func sectionOf(c *model.Collection, a model.Accession) (title string, newBox bool) {
	p := c.PatternOf(a)
	for _, s := range c.Shelf().Sections {
		for _, tag := range s.Tags {
			if slices.ContainsFunc(p.Tags, func(t string) bool { return strings.EqualFold(t, tag) }) {
				return s.Title, s.NewBox
			}
		}
	}
	for _, s := range c.Shelf().Sections {
		if slices.Contains(s.Publishers, p.Publisher) {
			return s.Title, s.NewBox
		}
	}
	for _, s := range c.Shelf().Sections {
		if s.Others {
			return s.Title, s.NewBox
		}
	}
	return "", false
}

// front measures from the front of a box, in a plan, to the front of the
// envelope at an index of what is in the box; at the end it gives what all take
// together.
func front(c *model.Collection, box []model.Accession, index int) model.Length {
	set, due := c.Shelf().Settings, planned(c)
	var l model.Length
	for i := 0; i <= index && i < len(box); i++ {
		l += model.Length(len(due.at(c, box[i], i == 0))) * set.Divider
		if i < index {
			l += c.Shelf().Takes(c.Copy(box[i]))
		}
	}
	return l
}

// planned is what the filing order of a collection calls for. The last is kept,
// since it is asked for again and again.
func planned(c *model.Collection) calls {
	if lastPlanned.c != c {
		lastPlanned.c, lastPlanned.calls = c, callsOf(c, accessions(ordering.Arrange(c).Row()))
	}
	return lastPlanned.calls
}

var lastPlanned struct {
	c     *model.Collection
	calls calls
}

func load(c *model.Collection, row []model.Accession) model.Length { return front(c, row, len(row)) }

// startsBox tells whether the copy at an index of the filing order begins a
// section that begins a box.
func startsBox(c *model.Collection, row []model.Accession, i int) bool {
	s, newBox := sectionOf(c, row[i])
	if i > 0 {
		if before, _ := sectionOf(c, row[i-1]); before == s {
			return false
		}
	}
	return newBox
}
