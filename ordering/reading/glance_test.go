package reading

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
	"example.org/tuckrow/ordering"
)

// What numbers and names are made of in these tests: little, so that many are
// alike, and all that numbers and folding treat in a way of its own.
var (
	numberBits = []string{"1", "2", "0", "07", "2019", "1999", "K", "m", "No. ", " ", "-", "/", ".", "(", ")", "H5", "٣", "२", "½", "Å", "ß", "#", "&"}
	nameBits   = []string{"a", "B", "1", "2", "é", "ß", "´", "\u0301", "\u20dd", "ﬁ", "①", " ", " ", "-", "/", "'", "&", "…", "व", "ि", "İ", "Σ"}
)

func made(t *rapid.T, bits []string, label string) string {
	return words.Clean(strings.Join(rapid.SliceOfN(rapid.SampledFrom(bits), 0, 5).Draw(t, label), ""))
}

// drawCupboard is a cupboard with publishers of every scheme and boxes 1 and 2.
func drawCupboard(t *rapid.T) *model.Collection {
	c := model.NewCollection()
	do := func(ch model.Change) {
		next, _, err := c.Apply(ch, "2026-03-01")
		if err != nil {
			t.Fatalf("%s: %v", ch.Title(c), err)
		}
		c = next
	}
	spec := model.ShelfSpec{Settings: model.DefaultSettings()}
	for _, name := range []string{"1", "2"} {
		spec.Boxes = append(spec.Boxes, model.BoxSpec{Name: name, Length: model.MM(2000)})
	}
	houses := []string{"Quillon", "1 Harrow", "Änne", "Umbrow 2", "Zeta"}
	for i, name := range houses {
		spec.Publishers = append(spec.Publishers, model.PublisherSpec{Name: name, Numbers: schemes[i]})
	}
	do(&model.SetShelf{Spec: spec})
	add := &model.Add{}
	for range rapid.IntRange(1, 12).Draw(t, "copies") {
		en := model.Entry{Publisher: rapid.SampledFrom(houses).Draw(t, "publisher"), Number: made(t, numberBits, "number"), Name: made(t, nameBits, "name")}
		en.SizeRange = rapid.SampledFrom([]string{"", "H5", "1"}).Draw(t, "size range")
		if en.Number == "" && en.Name == "" {
			en.Number = "1"
		}
		en.Box = rapid.SampledFrom([]string{"1", "2", "2", ""}).Draw(t, "box")
		add.Entries = append(add.Entries, en)
	}
	do(add)
	return c
}

// drawText is what could be read on an envelope of the cupboard, or nearly.
func drawText(t *rapid.T, c *model.Collection) string {
	p := c.PatternOf(model.Accession(rapid.IntRange(1, c.Copies().Len()).Draw(t, "of")))
	text := rapid.SampledFrom([]string{p.Number, p.Name, p.Heading(), strings.ToUpper(p.Name), strings.ToLower(p.Number), words.Fold(p.Name),
		"0" + p.Number, "K" + p.Number, p.Number + " H5", made(t, numberBits, "other number"), made(t, nameBits, "other name")}).Draw(t, "text")
	house := c.Publisher(p.Publisher).Name
	return words.Clean(rapid.SampledFrom([]string{"", "", house, house[:2], "no such house"}).Draw(t, "front") + " " + text)
}

// Going quickly through the cupboard finds what an index of every envelope in it
// finds, in the same order, one by one and several at once.
func TestNothingIsPassedOver(t *testing.T) {
	found := 0
	rapid.Check(t, func(t *rapid.T) {
		c := drawCupboard(t)
		box, _ := c.Shelf().BoxNamed("1")
		r := New(ordering.Arrange(c), box)
		all := newIndex(c, c.Copies().Len())
		all.has = func(a model.Accession) bool { return c.Copy(a) != nil && !slices.Contains(r.row, a) }
		for _, cp := range c.Copies().All() {
			if all.has(cp.Accession) {
				all.add(cp.Accession)
			}
		}
		for range rapid.IntRange(1, 6).Draw(t, "readings") {
			if r.Take(drawText(t, c)); rapid.Bool().Draw(t, "at once") {
				r.elsewhere(r.Count() - 1)
			}
		}
		for i, x := range r.reads {
			if x.gap {
				continue // nobody asks what it could be
			}
			want, got := all.find(x.text), r.elsewhere(i)
			if found += len(want); !slices.Equal(got, want) {
				t.Fatalf("%q is found as %v, by an index of everything as %v", x.text, got, want)
			}
		}
	})
	if found == 0 {
		t.Error("nothing that was read was in the cupboard")
	}
}
