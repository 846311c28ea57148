package moving_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/ordering/moving"
	"example.org/tuckrow/ordering/sample"
)

func after(t *testing.T, c *model.Collection, changes ...model.Change) *model.Collection {
	t.Helper()
	for _, ch := range changes {
		next, _, err := c.Apply(ch, "2026-03-01")
		if err != nil {
			t.Fatal(err)
		}
		c = next
	}
	return c
}

// A full file box of 380 mm, of which 15 % are free, weighs 8 to 14 kg (common
// practice, no source): 323 mm of envelopes. What is out is not carried; a dummy
// is a card.
func TestWhatThereIsToCarry(t *testing.T) {
	spec := model.ShelfSpec{Settings: model.DefaultSettings(), Boxes: []model.BoxSpec{{Name: "1", Length: model.MM(700)}, {Name: "2", Length: model.MM(400)}, {Name: "3", Length: model.MM(400)}},
		Oversize: []model.BoxSpec{{Name: "folios", Length: model.MM(300)}}, Hooks: []model.HookSpec{{Name: "door", Hooks: 2, Each: 3}}, Binders: []model.BinderSpec{{Category: "Coats", Pockets: 5}}}
	spec.Settings.Divider = 0
	put := func(number string, mm float64, medium model.Medium) model.Entry {
		return model.Entry{Publisher: "Quillon", Number: number, Thickness: model.MM(mm), Medium: medium, Category: "Coats", Sleeve: model.SleeveWithTissue}
	}
	bound := put("6", 1, "")
	bound.Sleeve = model.SleeveInBinder
	unbound := bound // its binder is to be got, and is not carried
	unbound.Number, unbound.Category = "7", "Hats"
	c := after(t, model.NewCollection(), &model.SetShelf{Spec: spec}, &model.Add{Entries: []model.Entry{
		put("1", 323, ""), put("2", 161.5, ""), put("3", 40, model.Magazine), put("4", 9, model.Printed), put("5", 50, ""), bound, unbound}},
		&model.Stand{Rows: []model.NamedRow{{Box: "1", Copies: []model.Accession{1, 2}}, {Box: "2", Copies: []model.Accession{3, 5}}}}, &model.TakeOut{Copy: 5})
	m := moving.List(ordering.Arrange(c))
	var got []string
	for _, x := range m.Loads {
		got = append(got, fmt.Sprintf("%s %s: %d, %s, %s, heavy %v", x.Kind, x.Name, x.Items, x.Length, moving.Kilograms(x.Low, x.High), x.Heavy()))
	}
	want := []string{"box 1: 2, 484.5 mm, 12 to 21 kg, heavy true", "oversize folios: 1, 40 mm, 0 to 2 kg, heavy false",
		"pile : 2, 2 mm, 0 to 1 kg, heavy false", "hooks : 1, 0 mm, , heavy false", "binder Coats: 1, 0 mm, , heavy false"}
	if !slices.Equal(got, want) || m.Copies != 6 || !m.Heavy() {
		t.Errorf("%d copies, heavy %v:\n%q\nwant\n%q", m.Copies, m.Heavy(), got, want)
	}
	if low, high := moving.Weight(model.MM(323)); low != 8 || high != 14 {
		t.Errorf("a full box weighs %v to %v kg, want 8 to 14", low, high)
	}
}

// Every copy of the demo is carried once, but for what is out.
func TestEveryCopyIsCarriedOnce(t *testing.T) {
	c, err := sample.Demo().Collection()
	if err != nil {
		t.Fatal(err)
	}
	if m := moving.List(ordering.Arrange(c)); m.Copies != c.Copies().Len()-len(c.OutList(""))-len(c.MissingList()) {
		t.Errorf("%d copies are carried of %d, with %d out", m.Copies, c.Copies().Len(), len(c.OutList("")))
	}
}

// The weights are those of a full file box, 8 to 14 kg (common practice, no
// source), which holds 323 mm; what holds more is more than one should lift.
func TestCaution(t *testing.T) {
	for _, x := range []struct {
		fullest model.Length
		heavy   string
	}{{0, ""}, {model.MM(323), ""}, {model.MM(324), " 8 to 15 kg:"}, {model.MM(646), " 16 to 28 kg:"}} {
		got := moving.Caution(x.fullest)
		if !strings.HasPrefix(got, "Local rules") || strings.Contains(got, "lift alone") != (x.heavy != "") || !strings.Contains(got, x.heavy) {
			t.Errorf("of %s: %q", x.fullest, got)
		}
		short := moving.ShortCaution(x.fullest)
		if len(short) >= len(got) || !strings.HasPrefix(short, "Local rules and qualified advice first") || !strings.Contains(short, "none above head height") || strings.Contains(short, "for one alone") != (x.heavy != "") {
			t.Errorf("in short, of %s: %q", x.fullest, short)
		}
	}
}
