package lookup

import (
	"fmt"
	"strings"
	"testing"
)

func TestTwins(t *testing.T) {
	c := cupboard(t, listed("Quillon", "K220", "Cape", "", "8-14", 1988), listed("Quillon", "k-220", "", "", "8-14", 1988),
		listed("Quillon", "220", "", "", "8-14", 0), listed("Quillon", "K220", "", "", "16-24", 1988), listed("Harrow & Pell", "K220", "", "", "", 0),
		listed("Quillon", "K220", "", "", "8-14", 2020), listed("Quillon", "K220", "", "", "8-14", 0))
	var got []string
	for _, p := range New(c).Twins() {
		got = append(got, fmt.Sprintf("%d=%d %d", p.A.ID, p.B.ID, p.Tie))
	}
	want := fmt.Sprintf("1=2 %d, 1=7 %d, 2=7 %d, 6=7 %d", Same, YearOpen, YearOpen, YearOpen)
	if s := strings.Join(got, ", "); s != want {
		t.Errorf("got %s, want %s", s, want)
	}
}

func TestHousesThatCouldBeOne(t *testing.T) {
	c := cupboard(t, listed("Harow & Pell", "1", "", "", "", 0), listed("Harrow & Pell", "2", "", "", "", 0), listed("Harrow & Pell", "3", "", "", "", 0),
		listed("Harrow and Pell", "4", "", "", "", 0), listed("Quillon", "5", "", "", "", 0), listed("The Lirrel Loom", "6", "", "", "", 0), listed("Lirrelloom", "7", "", "", "", 0))
	var got []string
	for _, h := range New(c).Houses() {
		got = append(got, h.A.Name+" = "+h.B.Name)
	}
	want := "Harrow & Pell = Harow & Pell; Harrow & Pell = Harrow and Pell; Harow & Pell = Harrow and Pell; The Lirrel Loom = Lirrelloom"
	if s := strings.Join(got, "; "); s != want {
		t.Errorf("got %s\nwant %s", s, want)
	}
	for _, x := range [][2]string{{"Okkerby", "Ekkerby"}} {
		if !OneHouse(x[0], x[1]) {
			t.Errorf("%q and %q could be one", x[0], x[1])
		}
	}
	for _, x := range [][2]string{{"Hask & Daughter", "Hask & Sons"}, {"Quillon", "Mirelune"}, {"&", "and"}, {"", ""}, {"Abe", "Ebe"}} {
		if OneHouse(x[0], x[1]) {
			t.Errorf("%q and %q are not one", x[0], x[1])
		}
	}
}
