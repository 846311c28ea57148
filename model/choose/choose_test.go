package choose

import (
	"fmt"
	"strings"
	"testing"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/fit"
)

func inches(n float64) model.Length { return model.MM(25.4 * n) }

func cupboard(t *testing.T) *model.Collection {
	t.Helper()
	sizes, err := model.ParseSizes("12 | 34 in; 14 | 36 in; 16 | 38 in")
	if err != nil {
		t.Fatal(err)
	}
	needs, err := model.ParseNeeds("A | 12-16 | 45 in | 3 yd; B | 12-16 | 45 in | 2 yd; B | 12-16 | 45 in | 1 yd | lining")
	if err != nil {
		t.Fatal(err)
	}
	c := model.NewCollection()
	for _, ch := range []model.Change{
		&model.Add{Entries: []model.Entry{
			{Publisher: "Quillon", Number: "1", Category: "Dresses", Year: 1950, Sizes: sizes, Needs: needs, Cut: model.Uncut, Added: "2020-01-01"},
			{Publisher: "Quillon", Number: "2", Category: "Dresses", Year: 1990, Sizes: sizes, Cut: model.FullyCut, Left: "12", Added: "2021-01-01"},
			{Pattern: 2, Publisher: "Quillon", Number: "2", Cut: model.FullyCut, Added: "2022-01-01"},
			{Publisher: "Harrow & Pell", Number: "3", Category: "Coats", SizeRange: "S-L", Added: "2019-01-01"},
			{Publisher: "Harrow & Pell", Number: "4", Category: "Dresses", SizeRange: "12-14", Year: 1980, Needs: needs, Added: "2018-01-01"},
		}},
		&model.Sewn{Make: model.Make{Pattern: 4, On: "2025-01-01"}},
	} {
		next, _, err := c.Apply(ch, "2026-01-01")
		if err != nil {
			t.Fatal(err)
		}
		c = next
	}
	return c
}

func TestShoppingTheOwnShelf(t *testing.T) {
	c := cupboard(t)
	who := func(bust float64) *model.Person { return &model.Person{Name: "Ada", Bust: inches(bust)} }
	wool := func(yards float64) *model.Cloth {
		return &model.Cloth{Name: "wool", Width: inches(45), Length: inches(36 * yards)}
	}
	for _, x := range []struct {
		what string
		q    Question
		want string // pattern/copy, with ? where not all is known
	}{
		{"everything, what was never made first", Question{}, "3/4 1/1 2/2 4/5"},
		{"never made", Question{NeverMade: true}, "3/4 1/1 2/2"},
		{"a category", Question{Category: c.CategoryNamed("coats")}, "3/4"},
		{"a publisher", Question{Publisher: c.PublisherNamed("Quillon")}, "1/1 2/2"},
		{"years", Question{From: 1960, To: 1985}, "4/5"},
		{"from a year", Question{From: 1980}, "2/2 4/5"},
		{"to a year, which leaves out what has none", Question{To: 1980}, "1/1 4/5"},
		{"uncut", Question{Cut: model.Uncut}, "1/1"},
		{"of some", Question{Words: []model.PatternID{2, 4}}, "2/2 4/5"},
		{"of none", Question{Words: []model.PatternID{}}, ""},
		// 2/2 has only size 12 left; of its other copy nobody knows what is left
		{"fits", Question{Who: who(38)}, "1/1 3/4? 2/3?"},
		{"fits a smaller one", Question{Who: who(34)}, "1/1 2/2 4/5 3/4?"},
		{"by a measure that was not taken", Question{Who: who(34), By: []fit.Measure{fit.Hip}}, "3/4? 1/1? 2/2? 4/5?"},
		// 1/1 comes between two sizes, and is known to; 4/5 has no need of cloth noted in
		// that size, 2/2 none at all
		{"between two sizes", Question{Who: who(35), NeverMade: true}, "1/1 3/4? 2/3?"},
		{"what is known to fit before what is not, where of neither the cloth is known", Question{Who: who(34), Cloth: wool(9), Size: "20"}, "1/1? 2/2? 4/5? 3/4?"},
		{"cloth for view B", Question{Cloth: wool(2)}, "1/1 4/5 3/4? 2/2?"},
		{"cloth for nothing", Question{Cloth: wool(1)}, "3/4? 2/2?"},
		{"cloth for a size that is not on the sleeve", Question{Cloth: wool(9), Size: "20"}, "3/4? 1/1? 2/2? 4/5?"},
		{"all at once", Question{Who: who(34), Cloth: wool(2), Category: c.CategoryNamed("Dresses"), NeverMade: true}, "1/1 2/2?"},
	} {
		var got []string
		for _, o := range Offers(c, x.q) {
			text := fmt.Sprintf("%d/%d", o.Pattern.ID, o.Copy.Accession)
			if !o.Known {
				text += "?"
			}
			if len(o.Reasons) == 0 || (o.Fit == nil) != (x.q.Who == nil) {
				t.Errorf("%s: %s has the reasons %q and fits %v", x.what, text, o.Reasons, o.Fit)
			}
			for _, a := range o.Cloth {
				if a.For != "" || x.q.Cloth == nil {
					t.Errorf("%s: %s is to be cut from it: %+v", x.what, text, a)
				}
			}
			got = append(got, text)
		}
		if s := strings.Join(got, " "); s != x.want {
			t.Errorf("%s: %s, want %s", x.what, s, x.want)
		}
	}
	gone, _, err := c.Apply(&model.Stand{Missing: []model.Accession{2}}, "2026-01-01")
	if err != nil {
		t.Fatal(err)
	}
	for _, o := range Offers(gone, Question{}) {
		if o.Copy.Accession == 2 || o.Pattern.ID == 2 && o.Copy.Accession != 3 {
			t.Errorf("copy %d is offered, which is missing or not the one at hand", o.Copy.Accession)
		}
	}
}
