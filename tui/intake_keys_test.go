package tui_test

import (
	"strings"
	"testing"

	"example.org/tuckrow/model"
	"example.org/tuckrow/tui/intake"
)

// The keystroke-level model (Card, Moran and Newell, 1980), in seconds: a key
// for a skilled and for an average typist, getting ready in the mind, and
// bringing the hand to the keyboard.
const (
	keySkilled = 0.20
	keyAverage = 0.28
	mental     = 1.35
	homing     = 0.40
)

// mostSeconds is what a bare entry may cost: who needs longer gives the list up
// half way (common practice, no source).
const mostSeconds = 10

// wardrobe is a list from which categories can be learned.
func wardrobe() model.Change {
	entry := func(publisher, number, name, category string) model.Entry {
		return model.Entry{Publisher: publisher, Number: number, Name: name, Category: category}
	}
	return &model.Add{Entries: []model.Entry{
		entry("Quillon", "210", "Belted coat", "Coats and jackets"), entry("Quillon", "211", "Swagger coat", "Coats and jackets"),
		entry("Harrow & Pell", "4107", "Tea dress", "Dresses"), entry("Harrow & Pell", "4108", "Shirt dress", "Dresses"),
		entry("Harrow & Pell", "4109", "Wrap dress", "Dresses"),
	}}
}

// A case is one pattern typed in: the keys, and how many of them are the data
// that is read off the sleeve. The first letters by which a publisher or a
// category is chosen are such data.
func TestKeysBeyondTheData(t *testing.T) {
	for _, x := range []struct {
		what   string
		keys   []string
		most   int
		chunks int // things read off the sleeve, or off the screen, and decided
		want   model.Entry
	}{
		{"nothing changes", []string{"'6123", "enter", "'Panelled dress", "enter"}, 2, 2,
			model.Entry{Publisher: "Harrow & Pell", Number: "6123", Name: "Panelled dress", Category: "Dresses"}},
		{"number only", []string{"'6123", "enter", "enter"}, 2, 1,
			model.Entry{Publisher: "Harrow & Pell", Number: "6123", Category: "Dresses"}},
		{"another category, proposed", []string{"'6123", "enter", "'Hooded coat", "ctrl+y", "enter"}, 4, 3,
			model.Entry{Publisher: "Harrow & Pell", Number: "6123", Name: "Hooded coat", Category: "Coats and jackets"}},
		{"another category, by first letters", []string{"'6123", "enter", "'Zouave", "tab", "'c", "enter"}, 4, 3,
			model.Entry{Publisher: "Harrow & Pell", Number: "6123", Name: "Zouave", Category: "Coats and jackets"}},
		{"another publisher", []string{"shift+tab", "'q", "enter", "'6123", "enter", "'Panelled dress", "enter"}, 4, 3,
			model.Entry{Publisher: "Quillon", Number: "6123", Name: "Panelled dress", Category: "Dresses"}},
	} {
		p := play(t, intake.ID, wardrobe())
		pressed, data := 0, 0
		for _, k := range x.keys {
			n := p.hit(k)
			pressed += n
			if strings.HasPrefix(k, "'") {
				data += n
			}
		}
		got := p.entryOf(6)
		if got.Publisher != x.want.Publisher || got.Number != x.want.Number || got.Name != x.want.Name || got.Category != x.want.Category {
			t.Errorf("%s: entered %+v, want %+v", x.what, got, x.want)
		}
		beyond := pressed - data
		if beyond > x.most {
			t.Errorf("%s: %d keys beyond the data, want %d at most", x.what, beyond, x.most)
		}
		// The hand comes to the keyboard once, after it has turned the sleeve.
		rest := homing + float64(x.chunks)*mental
		skilled, average := rest+float64(pressed)*keySkilled, rest+float64(pressed)*keyAverage
		t.Logf("%-36s %2d keys, %d beyond the data; by the keystroke-level model %.1f s skilled, %.1f s average", x.what+":", pressed, beyond, skilled, average)
		if x.chunks <= 2 && average >= mostSeconds {
			t.Errorf("%s: %.1f s by the model, want under %d", x.what, average, mostSeconds)
		}
	}
}

// Ten patterns one after another, as a drawer brings them: the bound holds for
// each, whatever came before it.
func TestKeysBeyondTheDataOverADrawer(t *testing.T) {
	p := play(t, intake.ID, wardrobe())
	drawer := []struct{ publisher, number, name, category string }{
		{"", "5001", "Sheath dress", ""}, {"", "5002", "Wrap dress", ""}, {"", "5003", "Duffel coat", "take"},
		{"", "5004", "Swagger coat", ""}, {"", "5005", "Sun dress", "take"}, {"'q", "301", "Car coat", "take"},
		{"", "302", "Belted coat", ""}, {"", "303", "Apron dress", "take"}, {"'h", "5006", "Tea dress", ""}, {"", "5007", "Shirt dress", ""},
	}
	for i, x := range drawer {
		beyond, most := 0, 2
		if x.publisher != "" {
			beyond += p.hit("shift+tab")
			p.hit(x.publisher)
			beyond += p.hit("enter")
			most = 4
		}
		p.hit("'" + x.number)
		beyond += p.hit("enter")
		p.hit("'" + x.name)
		if x.category != "" {
			beyond += p.hit("ctrl+y")
			if most == 2 {
				most = 4
			} else {
				most += 2 // both changed
			}
		}
		beyond += p.hit("enter")
		if beyond > most {
			t.Errorf("entry %d: %d keys beyond the data, want %d at most", i+1, beyond, most)
		}
		want := "Dresses"
		if strings.HasSuffix(x.name, "coat") {
			want = "Coats and jackets"
		}
		if en := p.entryOf(model.Accession(6 + i)); en.Name != x.name || en.Category != want {
			t.Errorf("entry %d is %+v, want %s in %s", i+1, en, x.name, want)
		}
	}
}

func TestACategoryIsProposedAndNeverForced(t *testing.T) {
	p := play(t, intake.ID, wardrobe())
	p.hit("'6123", "enter", "'Hooded coat")
	p.mustShow("Dresses", "ctrl+y: Coats and jackets")
	p.hit("enter")
	if en := p.entryOf(6); en.Category != "Dresses" {
		t.Errorf("Enter took the category %q, want the one that stood there", en.Category)
	}
	// Taken and given back.
	p.hit("'6124", "enter", "'Belted coat", "ctrl+y")
	p.mustShow("Coats and jackets", "ctrl+y: back to Dresses")
	p.hit("ctrl+y")
	p.mustShow("ctrl+y: Coats and jackets")
	p.hit("ctrl+y", "enter")
	if en := p.entryOf(7); en.Category != "Coats and jackets" {
		t.Errorf("ctrl+y took %q, want what was proposed", en.Category)
	}
	// Chosen by hand, it is not argued with.
	p.hit("'6125", "enter", "'Shirt dress", "tab", "'coa", "tab")
	p.mustNotShow("ctrl+y:")
	p.hit("enter")
	if en := p.entryOf(8); en.Category != "Coats and jackets" {
		t.Errorf("the category chosen by hand became %q", en.Category)
	}
	// What fits is left in peace.
	p.hit("'6126", "enter", "'Swagger coat")
	p.mustNotShow("ctrl+y:")
}

// What the owner has chosen before counts, not what the word says elsewhere.
func TestACategoryIsLearnedFromWhatWasChosen(t *testing.T) {
	p := play(t, intake.ID, wardrobe())
	p.hit("'1", "enter", "'Zouave with a sash", "tab", "'coa", "enter")
	p.hit("'2", "enter", "'Tea dress", "ctrl+y", "enter")
	p.hit("'3", "enter", "'Plain zouave")
	p.mustShow("ctrl+y: Coats and jackets")
	// Its first letter finds it too, before a category that is used more.
	p = play(t, intake.ID, wardrobe(), add("Quillon", "1", "Cravat", "", 0), &model.Revise{Entry: model.Entry{Accession: 6, Publisher: "Quillon", Number: "1", Name: "Cravat", Category: "Cravats"}})
	p.hit("'2", "enter", "'Silk cravat", "tab", "'c")
	if view := p.root.View(); strings.Index(view, "  Cravats") > strings.Index(view, "  Coats and jackets") {
		t.Errorf("with the letter c Cravats should come first, since the name says so:\n%s", view)
	}
}
