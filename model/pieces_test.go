package model

import (
	"fmt"
	"testing"
)

func TestCompletenessPieceByPiece(t *testing.T) {
	c := do(t, NewCollection(), &Add{Entries: []Entry{entry("Quillon", "1", "Cape")}})
	for _, x := range []struct {
		ch       LookThrough
		complete string
		tally    string
	}{
		{LookThrough{Copy: 1, Pieces: []string{"front", "back", "collar"}}, "", "{[] [] [] [] [front back collar]}"},
		{LookThrough{Copy: 1, Found: []Piece{{Name: "Front"}, {Name: "back", State: PieceTorn}}}, "", "{[Front] [back] [] [] [collar]}"},
		{LookThrough{Copy: 1, Found: []Piece{{Name: "collar", State: PieceMissing}}}, "collar missing", "{[Front] [back] [] [collar] []}"},
		{LookThrough{Copy: 1, Found: []Piece{{Name: "COLLAR", State: PieceTraced}}}, "yes", "{[Front] [back] [collar] [] []}"},
		{LookThrough{Copy: 1, Pieces: []string{"front", "back", "collar", "pocket"}}, "", "{[Front] [back] [collar] [] [pocket]}"},
		{LookThrough{Copy: 1, Found: []Piece{{Name: "pocket"}, {Name: "a strap"}}}, "yes", "{[Front pocket a strap] [back] [collar] [] []}"},
	} {
		c = do(t, c, &x.ch)
		cp := c.Copy(1)
		if got := fmt.Sprint(TallyOf(c.Pattern(1), cp)); cp.Complete != x.complete || got != x.tally {
			t.Errorf("after %+v: %s, complete %q, want %s, %q", x.ch, got, cp.Complete, x.tally, x.complete)
		}
	}
	for _, ch := range []Change{&LookThrough{Copy: 9}, &LookThrough{Copy: 1, Found: []Piece{{Name: "|"}}}, &LookThrough{Copy: 1, Found: []Piece{{"front", "eaten"}}}} {
		if _, _, err := c.Apply(ch, day); !IsInput(err) {
			t.Errorf("%s: got %v, want an error for the user", ch.Title(c), err)
		}
	}
}

func TestMoneyIsReadExactly(t *testing.T) {
	for text, want := range map[string]Money{"": 0, "12": 1200, "12.5": 1250, "12,50": 1250, "0.07": 7, "100000000": mostMoney} {
		if got, err := ParseMoney(text); err != nil || got != want {
			t.Errorf("ParseMoney(%q) = %v, %v, want %d hundredths", text, got, err, want)
		}
	}
	for _, bad := range []string{"-1", "12.345", "12.", "1.2.3", "a", "100000001", "99999999999", "1e3", "12.+5"} {
		if got, err := ParseMoney(bad); !IsInput(err) {
			t.Errorf("ParseMoney(%q) = %v, %v, want an error for the user", bad, got, err)
		}
	}
	for _, m := range []Money{0, 7, 1250, -1250, mostMoney} {
		if back, err := ParseMoney(m.String()); m >= 0 && (err != nil || back != m) {
			t.Errorf("%d is written %s and read as %d (%v)", m, m, back, err)
		}
	}
}

// A test square that came out at 98.5 mm instead of 100 is 15 thousandths small.
func TestHowFarThePrintIsOff(t *testing.T) {
	if got, ok := (Print{Square: MM(98.5), Side: MM(100)}).ScaleOff(); !ok || got != -15 {
		t.Errorf("off by %d, %v", got, ok)
	}
	if _, ok := (Print{Side: MM(100)}).ScaleOff(); ok {
		t.Error("a square that was not measured is judged")
	}
}
