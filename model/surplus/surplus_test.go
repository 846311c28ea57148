package surplus

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.org/tuckrow/model"
)

func collection(t interface{ Fatal(...any) }, copies ...model.Copy) *model.Collection {
	var entries []model.Entry
	for _, cp := range copies {
		entries = append(entries, model.Entry{Pattern: 1, Publisher: "Quillon", Number: "1", Cut: cp.Cut, Complete: cp.Complete, Sleeve: cp.Sleeve, Medium: cp.Medium, Left: cp.Left})
	}
	entries = append(entries, model.Entry{Pattern: 2, Publisher: "Quillon", Number: "2"})
	c, _, err := model.NewCollection().Apply(&model.Add{Entries: entries}, "2026-03-01")
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func TestTheBetterCopyIsKept(t *testing.T) {
	for _, x := range []struct {
		what   string
		copies []model.Copy
		want   string
	}{
		{"complete before uncut", []model.Copy{{Cut: model.Uncut, Complete: "collar missing"}, {Cut: model.FullyCut, Complete: "yes"}},
			"2 keep: complete; cut; factory tissue; its sleeve still to be seen to | 1 look: uncut, and 2 is cut"},
		{"uncut before its sleeve", []model.Copy{{Cut: model.FullyCut}, {Cut: model.Uncut, Sleeve: model.SleeveMissing}},
			"2 keep: not checked for completeness; uncut; factory tissue; without its sleeve | 1 look: its sleeve still to be seen to, and 2 is without its sleeve"},
		{"worse in all", []model.Copy{{Cut: model.FullyCut, Sleeve: model.SleevePhotocopy}, {Cut: model.Uncut, Complete: "yes", Sleeve: model.SleeveInBinder}},
			"2 keep: complete; uncut; factory tissue; with its sleeve | 1 pass on: not checked for completeness, and 2 is complete; cut, and 2 is uncut; a photocopy for a sleeve, and 2 is with its sleeve"},
		{"alike", []model.Copy{{Cut: model.Uncut}, {Cut: model.Uncut}},
			"1 keep: not checked for completeness; uncut; factory tissue; its sleeve still to be seen to | 2 pass on: as good as 1, which has been here longer"},
		{"cut in other sizes", []model.Copy{{Cut: model.FullyCut, Left: "10"}, {Cut: model.FullyCut, Left: "14"}},
			"1 keep: not checked for completeness; cut; factory tissue; its sleeve still to be seen to | 2 look: it has the sizes 14 left, and 1 others"},
		{"each lacks another piece", []model.Copy{{Complete: "collar missing"}, {Complete: "cuff missing"}},
			"1 keep: collar missing; not known whether it is cut; factory tissue; its sleeve still to be seen to | 2 look: cuff missing, and of 1 collar missing: together they may be whole"},
		{"traced off the other", []model.Copy{{Cut: model.Uncut, Medium: model.Traced}, {Cut: model.Uncut}},
			"2 keep: not checked for completeness; uncut; factory tissue; its sleeve still to be seen to | 1 pass on: traced, and 2 is factory tissue"},
	} {
		groups := Groups(collection(t, x.copies...))
		if len(groups) != 1 || groups[0].Pattern.ID != 1 {
			t.Fatalf("%s: %d groups, want the one pattern that is there twice", x.what, len(groups))
		}
		var got []string
		for _, j := range groups[0].Copies {
			got = append(got, fmt.Sprintf("%d %s: %s", j.Copy.Accession, j.Advice, strings.Join(j.Why, "; ")))
		}
		if s := strings.Join(got, " | "); s != x.want {
			t.Errorf("%s:\n got %s\nwant %s", x.what, s, x.want)
		}
	}
}

var anyCopy = rapid.Custom(func(t *rapid.T) model.Copy {
	return model.Copy{
		Cut:      rapid.SampledFrom([]model.Cut{"", model.Uncut, model.PartlyCut, model.FullyCut}).Draw(t, "cut"),
		Complete: rapid.SampledFrom([]string{"", "yes", "Yes", "collar missing", "cuff missing"}).Draw(t, "complete"),
		Sleeve:   rapid.SampledFrom([]model.Sleeve{"", model.SleeveInBinder, model.SleevePhotocopy, model.SleeveWithTissue, model.SleeveMissing}).Draw(t, "sleeve"),
		Medium:   rapid.SampledFrom([]model.Medium{"", model.Printed, model.Traced, model.Drafted, model.Magazine}).Draw(t, "medium"),
		Left:     rapid.SampledFrom([]string{"", "10", "14"}).Draw(t, "left"),
	}
})

// One copy is kept, nothing that it lacks is passed on, and every copy is judged
// once with a reason.
func TestNothingIsLostByPassingOn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := collection(t, rapid.SliceOfN(anyCopy, 2, 5).Draw(t, "copies")...)
		seen := map[model.Accession]bool{}
		group := Groups(c)[0]
		kept := group.Copies[0]
		for i, j := range group.Copies {
			if seen[j.Copy.Accession] || len(j.Why) == 0 || (j.Advice == Keep) != (i == 0) {
				t.Fatalf("copy %d, place %d: %s, since %q", j.Copy.Accession, i, j.Advice, j.Why)
			}
			seen[j.Copy.Accession] = true
			worse := completeness(j.Copy) >= completeness(kept.Copy) &&
				(j.Copy.Cut != model.Uncut || kept.Copy.Cut == model.Uncut) &&
				(j.Copy.Sleeve == model.SleeveMissing || kept.Copy.Sleeve != model.SleeveMissing) &&
				(j.Copy.Medium != model.Tissue || kept.Copy.Medium == model.Tissue)
			if j.Advice == PassOn && !worse {
				t.Fatalf("%+v is passed on though the kept one lacks something of it: %+v", j.Copy, kept.Copy)
			}
		}
		if len(seen) != c.Copies().Len()-1 {
			t.Fatalf("%d of %d copies are judged", len(seen), c.Copies().Len()-1)
		}
	})
}
