package lookup

import (
	"slices"
	"strings"
	"testing"

	"example.org/tuckrow/model"
)

// A row of a number that is listed is a further copy only where it says nothing
// that the list does not, and can be no other.
func TestWhatIsListedByThatNumber(t *testing.T) {
	c := cupboard(t, model.Entry{Publisher: "Quillon", Number: "K100", Name: "Cape", SizeRange: "8-14", Year: 1974, Category: "Coats"},
		model.Entry{Publisher: "Quillon", Number: "200 H5", Name: "Coat"}, model.Entry{Publisher: "Quillon", Number: "200 M5", Name: "Coat"},
		model.Entry{Publisher: "Quillon", Number: "300"}, model.Entry{Publisher: "Quillon", Name: "Work apron"},
		model.Entry{Publisher: model.NotKnown, Name: "Long gown"})
	n, index := NumbersOf(c), New(c)
	for _, x := range []struct {
		en      model.Entry
		further bool
		why     string // empty: it is not listed
	}{
		{model.Entry{Publisher: "quillon", Number: "K100"}, true, "a further copy"},
		{model.Entry{Publisher: "Quillon", Number: "k-0100", Name: "CAPE", SizeRange: "8 - 14", Year: 1974}, true, "a further copy"},
		{model.Entry{Publisher: "Quillon", Number: "K100", Cut: model.Uncut, Notes: "torn", Batch: "x"}, true, "a further copy"}, // of the copy
		{model.Entry{Publisher: "Quillon", Number: "K100", SizeRange: "16-22"}, false, "a pattern of its own: size range 16-22, there 8-14"},
		{model.Entry{Publisher: "Quillon", Number: "K100", Year: 2008}, false, "a pattern of its own: year 2008, there 1974"},
		{model.Entry{Publisher: "Quillon", Number: "K100", Name: "Apron", Category: "Aprons"}, false, "own: name Apron, there Cape; category Aprons, there Coats"},
		{model.Entry{Publisher: "Quillon", Number: "300", Name: "Apron", Year: 1950}, false, "own: year 1950, there none; name Apron, there none"},
		{model.Entry{Publisher: "Quillon", Number: "200 M5", Name: "Coat"}, true, "a further copy"},
		{model.Entry{Publisher: "Quillon", Number: "200", Name: "Coat"}, false, "it could be that one or 1 more by the number"},
		{model.Entry{Publisher: "Quillon", Number: "200 XX", Name: "Coat"}, false, "size range XX, there H5"},
		{model.Entry{Publisher: "Quillon", Number: "101"}, false, ""}, {model.Entry{Publisher: "Harrow", Number: "100"}, false, ""},
		{model.Entry{Publisher: "Quillon", Name: "Cape"}, false, ""}, // that one has a number
		{model.Entry{Publisher: "Quillon", Name: "work  APRON"}, true, "a further copy"},
		{model.Entry{Publisher: "Quillon", Name: "Work apron", Year: 1950}, false, "own: year 1950, there none"},
		{model.Entry{Publisher: "Quillon"}, false, ""},
		{model.Entry{Publisher: model.NotKnown, Name: "Long gown"}, false, ""}, // it can be another
	} {
		l, ok := n.Of(x.en)
		if same, found := index.Listed(x.en); found != ok || ok && (same.Why() != l.Why() || same.Pattern != l.Pattern) {
			t.Errorf("%+v: the index says %v: %s; without it %v: %s", x.en, found, same.Why(), ok, l.Why())
		}
		if ok != (x.why != "") || ok && (l.Further() != x.further || !strings.Contains(l.Why(), x.why)) {
			t.Errorf("%+v: listed %v, further %v: %s; want %v: %q", x.en, ok, l.Further(), l.Why(), x.further, x.why)
		}
	}
	for _, name := range titled {
		if !slices.ContainsFunc(model.Fields(), func(f model.Field) bool { return f.Name == name }) {
			t.Errorf("there is no field %q", name)
		}
	}
}

// The index goes along with changes: what has another number since is found by that.
func TestWhatIsListedAfterAChange(t *testing.T) {
	c := cupboard(t, model.Entry{Publisher: "Quillon", Number: "100"}, model.Entry{Publisher: "Quillon", Name: "Cape"})
	x := New(c)
	one, two := c.EntryOf(c.Copy(1)), c.EntryOf(c.Copy(2))
	one.Number, two.Name = "200", "Cloak"
	for _, en := range []model.Entry{one, two} {
		next, delta, err := c.Apply(&model.Revise{Entry: en}, "2026-03-02")
		if err != nil {
			t.Fatal(err)
		}
		c, x = next, x.Next(model.Commit{Collection: next, Delta: delta})
	}
	for _, q := range []struct {
		number, name string
		want         bool
	}{{"100", "", false}, {"200", "", true}, {"", "Cape", false}, {"", "cloak", true}} {
		if _, ok := x.Listed(model.Entry{Publisher: "Quillon", Number: q.number, Name: q.name}); ok != q.want {
			t.Errorf("%+v: listed %v", q, ok)
		}
	}
}

func TestAPublisherThatIsNearlyListed(t *testing.T) {
	c := cupboard(t, model.Entry{Publisher: "Harrow & Pell", Number: "1"}, model.Entry{Publisher: "Quillon", Number: "1"})
	for name, want := range map[string]string{
		"harrow": "Harrow & Pell", "Har": "Harrow & Pell", "Harow and Pell": "Harrow & Pell", "Quilon": "Quillon",
		"harrow & pell": "", "QUILLON": "", "Pell": "", "Sorrelade": "", "": "", "&": "",
	} {
		got := ""
		if p := LikePublisher(c, name); p != nil {
			got = p.Name
		}
		if got != want {
			t.Errorf("%q: %q, want %q", name, got, want)
		}
	}
}
