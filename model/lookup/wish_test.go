package lookup

import (
	"fmt"
	"testing"

	"example.org/tuckrow/model"
)

func TestWishes(t *testing.T) {
	c := small(t)
	for _, w := range []model.Wish{
		{Publisher: "Harrow & Pell", Number: "4107", Name: "Tea gown"}, {Publisher: "Quillon", Number: "K-0451", Name: "Duffel coat"},
		{Name: "Sailor suit", SizeRange: "4-10"}, {Publisher: "The Lirrel Loom", Name: "Wrap skirt"}, {Publisher: "Harrow & Pell", Name: "Tea"},
	} {
		next, _, err := c.Apply(&model.Want{Wish: w}, "2026-03-01")
		if err != nil {
			t.Fatal(err)
		}
		c = next
	}
	x := New(c)
	for query, want := range map[string]string{
		"4107": "[1]", "harrow tea": "[1 5]", "quil 451": "[2]", "k451": "[2]", "45": "[]", "duff": "[2]", "sailor": "[3]", "410": "[]", "": "[]", "umbrella": "[]",
	} {
		ids := []model.WishID{}
		for _, w := range x.Wishes(query) {
			ids = append(ids, w.ID)
		}
		if got := fmt.Sprint(ids); got != want {
			t.Errorf("%q leads to %s, want %s", query, got, want)
		}
	}
	for id, want := range map[uint32]string{1: "4107 Tea gown", 2: "", 3: "", 4: "Wrap skirt", 5: ""} {
		got := ""
		if p := x.Granted(c.Wishes().Get(id)); p != nil {
			got = p.Heading()
		}
		if got != want {
			t.Errorf("wish %d is granted by %q, want %q", id, got, want)
		}
	}
}
