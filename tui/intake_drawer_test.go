package tui_test

import (
	"strings"
	"testing"

	"example.org/tuckrow/model"
	"example.org/tuckrow/tui/find"
	"example.org/tuckrow/tui/intake"
)

// An evening at the drawer from a fresh store: twenty sleeves of three publishers
// with a duplicate, two scans, and the program closed half way through a name.
// What is in quotes is read off the sleeve, or is the first letters of what is
// chosen; all other keys are beyond the data.
var evening = []struct {
	keys    []string
	changed int // how many of publisher and category are others than before
	want    model.Entry
}{
	{[]string{"'Harrow & Pell", "enter", "'4107", "enter", "'Tea gown", "tab", "'Dresses", "enter"}, 2, model.Entry{Publisher: "Harrow & Pell", Number: "4107", Name: "Tea gown", Category: "Dresses"}},
	{[]string{"'4108", "enter", "'Shirt dress", "enter"}, 0, model.Entry{Publisher: "Harrow & Pell", Number: "4108", Name: "Shirt dress", Category: "Dresses"}},
	{[]string{"'4112", "enter", "'Wrap dress", "enter"}, 0, model.Entry{Publisher: "Harrow & Pell", Number: "4112", Name: "Wrap dress", Category: "Dresses"}},
	{[]string{"'4120", "enter", "'Belted coat", "tab", "'Coats", "enter"}, 1, model.Entry{Publisher: "Harrow & Pell", Number: "4120", Name: "Belted coat", Category: "Coats"}},
	{[]string{"'4121", "enter", "'Swagger coat", "enter"}, 0, model.Entry{Publisher: "Harrow & Pell", Number: "4121", Name: "Swagger coat", Category: "Coats"}},
	{[]string{"'4130", "enter", "'Sun dress", "tab", "'d", "enter"}, 1, model.Entry{Publisher: "Harrow & Pell", Number: "4130", Name: "Sun dress", Category: "Dresses"}},
	{[]string{"'4112", "enter", "enter"}, 0, model.Entry{Publisher: "Harrow & Pell", Number: "4112", Name: "Wrap dress", Category: "Dresses"}}, // owned: a further copy
	{[]string{"shift+tab", "'Quillon", "enter", "'K210", "enter", "'Apron dress", "enter"}, 1, model.Entry{Publisher: "Quillon", Number: "K210", Name: "Apron dress", Category: "Dresses"}},
	{[]string{"'K211", "enter", "'Car coat", "ctrl+y", "enter"}, 1, model.Entry{Publisher: "Quillon", Number: "K211", Name: "Car coat", Category: "Coats"}},
	{[]string{"'K212", "enter", "'Duffel coat", "enter"}, 0, model.Entry{Publisher: "Quillon", Number: "K212", Name: "Duffel coat", Category: "Coats"}},
	{[]string{"'K213", "enter", "'Hood", "close", "'ed coat", "enter"}, 0, model.Entry{Publisher: "Quillon", Number: "K213", Name: "Hooded coat", Category: "Coats"}},
	{[]string{"'K214", "enter", "'Opera coat", "scan 6291041500213", "enter"}, 0, model.Entry{Publisher: "Quillon", Number: "K214", Name: "Opera coat", Category: "Coats", Barcode: "6291041500213"}},
	{[]string{"scan 6291041500213"}, 0, model.Entry{Publisher: "Quillon", Number: "K214", Name: "Opera coat", Category: "Coats"}}, // known now
	{[]string{"shift+tab", "'h", "enter", "'5001", "enter", "'Swing coat", "enter"}, 1, model.Entry{Publisher: "Harrow & Pell", Number: "5001", Name: "Swing coat", Category: "Coats"}},
	{[]string{"'5002", "enter", "'Day dress", "ctrl+y", "enter"}, 1, model.Entry{Publisher: "Harrow & Pell", Number: "5002", Name: "Day dress", Category: "Dresses"}},
	{[]string{"shift+tab", "'Tessarow", "enter", "'E101", "enter", "'Jumper dress", "enter"}, 1, model.Entry{Publisher: "Tessarow", Number: "E101", Name: "Jumper dress", Category: "Dresses"}},
	{[]string{"'E102", "enter", "'Slip dress", "enter"}, 0, model.Entry{Publisher: "Tessarow", Number: "E102", Name: "Slip dress", Category: "Dresses"}},
	{[]string{"'E103", "enter", "enter"}, 0, model.Entry{Publisher: "Tessarow", Number: "E103", Category: "Dresses"}},
	{[]string{"shift+tab", "'q", "enter", "'K300", "enter", "'Trench coat", "ctrl+y", "enter"}, 2, model.Entry{Publisher: "Quillon", Number: "K300", Name: "Trench coat", Category: "Coats"}},
	{[]string{"'K301", "enter", "'Cape coat", "enter"}, 0, model.Entry{Publisher: "Quillon", Number: "K301", Name: "Cape coat", Category: "Coats"}},
}

func TestAnEveningAtTheDrawer(t *testing.T) {
	p := play(t, intake.ID)
	all, dataKeys := 0, 0
	for i, x := range evening {
		beyond := 0
		for _, k := range x.keys {
			code, scan := strings.CutPrefix(k, "scan ")
			switch {
			case k == "close":
				p = p.again()
			case scan:
				p.burst(code)
			case strings.HasPrefix(k, "'"):
				dataKeys += p.hit(k)
			default:
				beyond += p.hit(k)
			}
		}
		all += beyond
		if most := 2 + 2*x.changed; beyond > most {
			t.Errorf("sleeve %d: %d keys beyond the data, want %d at most", i+1, beyond, most)
		}
		got, want := p.entryOf(model.Accession(i+1)), x.want
		if got.Publisher != want.Publisher || got.Number != want.Number || got.Name != want.Name || got.Category != want.Category || want.Barcode != "" && got.Barcode != want.Barcode {
			t.Errorf("sleeve %d was entered as %+v, want %+v", i+1, got, want)
		}
	}
	if n := p.listed().Copies().Len(); n != len(evening) {
		t.Errorf("%d copies are listed, want %d", n, len(evening))
	}
	if a, b := p.entryOf(3), p.entryOf(7); a.Pattern != b.Pattern {
		t.Error("the duplicate is no further copy")
	}
	t.Logf("%d sleeves: %d keys beyond the data, %.1f a sleeve, besides %d keys of data", len(evening), all, float64(all)/float64(len(evening)), dataKeys)

	// A mistake is seen: the name of the entry before.
	mend := p.hit("ctrl+e", "enter")
	p.hit("ctrl+u", "'Cape")
	mend += p.hit("enter")
	if en := p.entryOf(20); en.Name != "Cape" || mend > 3 {
		t.Errorf("mended with %d keys it is %+v, want Cape", mend, en)
	}
	t.Logf("a mistake in the entry before: %d keys beyond ctrl+u and the data", mend)
}

// In the middle of an entry a slot is looked up, the envelope taken out, and one
// is back at the entry.
func TestLookingUpASlotInTheMiddleOfWork(t *testing.T) {
	p := demo(t, find.ID)
	p.hit("ctrl+n", "'72", "enter", "'Swag")
	look := p.hit("ctrl+f")
	p.hit("'6123")
	p.mustShow("box 1 (cupboard, top drawer), place 38", "235 mm from the front", "behind 6118 Wrap skirt", "before 6131 Shift dress")
	take := p.hit("ctrl+o")
	back := p.hit("esc")
	p.mustShow("tuckrow: Intake", "Number      72", "Name        Swag")
	p.hit("ctrl+f")
	p.hit("'6131") // the next, over what was looked for before
	p.mustShow("6131 Shift dress", "place 39")
	t.Logf("keys beyond the number: %d to look it up, %d to take it out, %d to be back", look, take, back)
	if look != 1 || take != 1 || back != 1 {
		t.Error("each should be one key")
	}
}
