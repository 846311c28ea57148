package model

import (
	"slices"
	"testing"
)

func TestSizesAndNeedsAreReadAsTheyArePrinted(t *testing.T) {
	sizes, err := ParseSizes("10 | 32 1/2 in | 25in | 34 ½ in;; 12|34 in ; L | | 74 cm")
	want := []Size{{"10", MM(825.5), MM(635), MM(876.3)}, {Name: "12", Bust: MM(863.6)}, {Name: "L", Waist: MM(740)}}
	if err != nil || !slices.Equal(sizes, want) {
		t.Errorf("got %v, %v, want %v", sizes, err, want)
	}
	needs, err := ParseNeeds("A | 10-14 | 45 in | 2 1/4 yd; | | 115 cm | 2.3 m | lining")
	if want := []Need{{"A", "10-14", MM(1143), MM(2057.4), ""}, {"", "", MM(1150), MM(2300), "lining"}}; err != nil || !slices.Equal(needs, want) {
		t.Errorf("got %v, %v, want %v", needs, err, want)
	}
	for _, bad := range []string{"| 32 in", "10 | 32 in | 25 in | 34 in | 5", "10 | -1", "10 | 32 ell"} {
		if got, err := ParseSizes(bad); !IsInput(err) {
			t.Errorf("sizes %q gave %v, %v, want an error for the user", bad, got, err)
		}
	}
	for _, bad := range []string{"A | 10", "A | 10 | 45 in | 0", "A | 10 | 45 in | 2 yd | lining | x", "A | 10 | 45 | 2 years"} {
		if got, err := ParseNeeds(bad); !IsInput(err) {
			t.Errorf("needs %q gave %v, %v, want an error for the user", bad, got, err)
		}
	}
}

// What an entry lists is cleaned of what parts a cell, and its caller's lists
// stay as they are.
func TestSizesHoldNoSeparators(t *testing.T) {
	en := entry("Quillon", "1", "")
	en.Sizes = []Size{{Name: "10;|\u037eL"}}
	en.Needs = []Need{{View: "A|B", Width: 1, Length: 1}}
	mine := en.Sizes
	c := do(t, NewCollection(), &Add{Entries: []Entry{en}})
	if got := c.Pattern(1); got.Sizes[0].Name != "10 L" || got.Needs[0].View != "A B" {
		t.Errorf("got %+v", got)
	}
	if mine[0].Name != "10;|\u037eL" {
		t.Error("the lists of the caller were altered")
	}
	for _, bad := range []Entry{
		{Publisher: "Quillon", Number: "1", Sizes: []Size{{Name: " | "}}},
		{Publisher: "Quillon", Number: "1", Sizes: []Size{{Name: "10", Hip: -1}}},
		{Publisher: "Quillon", Number: "1", Needs: []Need{{Width: 1}}},
		{Publisher: "Quillon", Number: "1", Needs: make([]Need, 1000)},
	} {
		if _, _, err := c.Apply(&Add{Entries: []Entry{bad}}, day); !IsInput(err) {
			t.Errorf("%+v gave %v, want an error for the user", bad, err)
		}
	}
}
