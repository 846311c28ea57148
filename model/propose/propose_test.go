package propose

import (
	"reflect"
	"testing"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering/sample"
)

const day model.Date = "2026-03-01"

func entry(publisher, number, name, category string) model.Entry {
	return model.Entry{Publisher: publisher, Number: number, Name: name, Category: category}
}

// follow applies changes one after another, with a Known beside them.
func follow(t *testing.T, changes ...model.Change) *Known {
	t.Helper()
	c := model.NewCollection()
	k := New(c)
	for _, ch := range changes {
		next, delta, err := c.Apply(ch, day)
		if err != nil {
			t.Fatal(err)
		}
		c = next
		k.Follow(model.Commit{Collection: next, Delta: delta})
	}
	return k
}

func add(entries ...model.Entry) model.Change { return &model.Add{Entries: entries} }

func TestTheWordsOfANameSpeakForACategory(t *testing.T) {
	k := follow(t, add(
		entry("Quillon", "1", "Belted shirt dress", "Dresses"), entry("Quillon", "2", "Wrap dress", "Dresses"),
		entry("Quillon", "3", "Belted coat", "Coats"), entry("Quillon", "4", "Swagger coat", "Coats"),
		entry("Quillon", "5", "Belted shirt", "Tops"), entry("Quillon", "6", "Wrap skirt", "Skirts")))
	for name, want := range map[string]string{
		"Belted dress":      "Dresses",
		"Long belted coat":  "Coats",
		"COAT":              "Coats",
		"A quite new skirt": "Skirts",
		"Top with sleeves":  "Tops", // by the category's own name
	} {
		if got := k.Categories(name); len(got) == 0 || got[0].Category != want || got[0].Score < Least {
			t.Errorf("%q: proposed %v, want %s first, with %.2f at least", name, got, want, Least)
		}
	}
	for _, name := range []string{"", "Zouave", "with a"} {
		if got := k.Categories(name); len(got) > 0 && got[0].Score >= Least {
			t.Errorf("%q: proposed %v, though nothing speaks for it", name, got)
		}
	}
}

// What the owner chose against the category's own name counts for more than
// the name.
func TestWhatTheOwnerChoseIsLearned(t *testing.T) {
	k := follow(t, add(entry("Quillon", "1", "Slip", "Dresses"), entry("Quillon", "2", "x", "Nightwear")))
	if got := k.Categories("Night dress")[0].Category; got != "Dresses" {
		t.Errorf("at first %q is proposed, want Dresses, by its name", got)
	}
	k = follow(t, add(entry("Quillon", "1", "Slip", "Dresses"), entry("Quillon", "2", "Night dress", "Nightwear")),
		add(entry("Quillon", "3", "Long night dress", "Nightwear")))
	if got := k.Categories("Night dress")[0].Category; got != "Nightwear" {
		t.Errorf("after it was chosen twice %q is proposed, want Nightwear", got)
	}
}

// The codes are made up: prefix 0123456 and 7654321 are given to nobody we
// know of, the check digits are by GS1's rule (model.IsGTIN).
func code(t *testing.T, twelve string) string {
	t.Helper()
	for d := '0'; d <= '9'; d++ {
		if c := twelve + string(d); model.IsGTIN(c) {
			return c
		}
	}
	t.Fatalf("%q is no 12 digits", twelve)
	return ""
}

func sleeve(publisher, number, barcode string) model.Entry {
	return model.Entry{Publisher: publisher, Number: number, Barcode: barcode}
}

func TestACodeBringsPublisherAndNumber(t *testing.T) {
	k := follow(t, add(
		sleeve("Quillon", "K4107", code(t, "012345604107")), sleeve("Quillon", "K4222", code(t, "012345604222")),
		sleeve("Quillon", "K980", code(t, "012345600980")), sleeve("Harrow & Pell", "6123 H5", code(t, "765432161230")),
	), add(entry("Quillon", "1", "no code", "")))
	for _, x := range []struct {
		twelve string
		want   Guess
	}{
		{"012345604107", Guess{Pattern: 1}},
		{"012345604955", Guess{Publisher: "Quillon", Sleeves: 3, Of: 3, Number: "K4955", Agree: 3, Tried: 3}},
		{"765432177770", Guess{Publisher: "Harrow & Pell", Sleeves: 1, Of: 1}}, // where its number stands was seen once
		{"555555541070", Guess{}},
	} {
		if got := k.Code(code(t, x.twelve)); got != x.want {
			t.Errorf("code %s: %+v, want %+v", x.twelve, got, x.want)
		}
	}
	// A GTIN-12 is a GTIN-13 with a zero in front.
	if got := k.Code(code(t, "012345604107")[1:]); got.Pattern != 1 {
		t.Errorf("the same code without its leading zero: %+v, want pattern 1", got)
	}
}

func TestAPrefixThatTwoShareProposesNeither(t *testing.T) {
	k := follow(t, add(sleeve("Quillon", "410", code(t, "765432110410")), sleeve("Harrow & Pell", "411", code(t, "765432120411"))))
	if got := k.Code(code(t, "765432130500")); got != (Guess{}) {
		t.Errorf("a code like those of two publishers: %+v, want nothing", got)
	}
	if got := k.Code(code(t, "765432120500")); got.Publisher != "Harrow & Pell" {
		t.Errorf("a code more like those of one: %+v, want that one", got)
	}
}

func TestFollowingIsLikeLearningAfresh(t *testing.T) {
	revise := entry("Quillon", "7", "Wrap coat", "Coats")
	revise.Accession, revise.Barcode = 2, code(t, "012345604107")
	changes := []model.Change{
		add(entry("Quillon", "1", "Wrap dress", "Dresses"), sleeve("Quillon", "4222", code(t, "012345604222"))),
		add(model.Entry{Pattern: 1, Publisher: "Quillon", Number: "1", Name: "Wrap dress", Batch: "hall drawer"}),
		&model.Revise{Entry: revise},
		&model.Remove{Copies: []model.Accession{1}},
		&model.Remove{Copies: []model.Accession{3}},
	}
	for n := range changes {
		got := follow(t, changes[:n+1]...)
		want := New(got.c)
		if !reflect.DeepEqual(got.Categories("Wrap dress coat"), want.Categories("Wrap dress coat")) {
			t.Errorf("after %d changes: %v, afresh %v", n+1, got.Categories("Wrap dress coat"), want.Categories("Wrap dress coat"))
		}
		for _, c := range []string{"012345604107", "012345604222", "012345604333"} {
			if g, w := got.Code(code(t, c)), want.Code(code(t, c)); g != w {
				t.Errorf("after %d changes: code %s is %+v, afresh %+v", n+1, c, g, w)
			}
		}
		if got.Publisher(1) != want.Publisher(1) || got.Category(1) != want.Category(1) || got.Batch(1) != want.Batch(1) {
			t.Errorf("after %d changes the counts are not those of afresh", n+1)
		}
	}
}

// How good the proposals are is measured on names that were not learned from:
// every fifth of an invented cupboard.
func TestProposalsFitNamesNotSeenBefore(t *testing.T) {
	entries := sample.Copies(2000, 7)
	var learn, try []model.Entry
	for i, en := range entries {
		if i%5 == 0 {
			try = append(try, en)
		} else {
			learn = append(learn, en)
		}
	}
	k := follow(t, add(learn...))
	right, wrong, none := 0, 0, 0
	for _, en := range try {
		got := k.Categories(en.Name)
		switch {
		case len(got) == 0 || got[0].Score < Least:
			none++
		case got[0].Category == en.Category:
			right++
		default:
			wrong++
		}
	}
	t.Logf("of %d names: %d right, %d wrong, %d without a proposal", len(try), right, wrong, none)
	if right*10 < len(try)*9 {
		t.Errorf("of %d names only %d were given their category", len(try), right)
	}
}

func BenchmarkLearn(b *testing.B) {
	c := sample.Cupboard(60_000)
	for b.Loop() {
		New(c)
	}
}
