package tui_test

import (
	"fmt"
	"testing"
	"time"

	"example.org/tuckrow/model"
	"example.org/tuckrow/storage"
	"example.org/tuckrow/tui/intake"
)

// sleeves is a list of sleeves with codes in which the number stands. The
// prefix 0123456 belongs to nobody that we know of.
func sleeves(numbers ...int) model.Change {
	ch := &model.Add{}
	for _, n := range numbers {
		ch.Entries = append(ch.Entries, model.Entry{Publisher: "Quillon", Number: fmt.Sprint(n), Name: fmt.Sprint("Cape ", n), Category: "Coats", Barcode: codeOf(n)})
	}
	return ch
}

func codeOf(n int) string {
	for d := range 10 {
		if c := fmt.Sprintf("0123456%05d%d", n, d); model.IsGTIN(c) {
			return c
		}
	}
	return ""
}

func TestAScanBringsPublisherAndNumber(t *testing.T) {
	p := play(t, intake.ID, sleeves(4107, 4222, 4303), add("Harrow & Pell", "1", "", "", 0))
	p.burst(codeOf(4500))
	p.mustShow("the code is like those of 3 sleeves: Quillon; number as on 3 sleeves", "Quillon", "4500")
	if n := p.listed().Copies().Len(); n != 4 {
		t.Fatalf("%d copies are listed, want 4: its name is still to be said", n)
	}
	p.hit("'Hooded cape", "enter")
	if en := p.entryOf(5); en.Publisher != "Quillon" || en.Number != "4500" || en.Name != "Hooded cape" || en.Barcode != codeOf(4500) {
		t.Errorf("the entry is %+v, want 4500 of Quillon with its code", en)
	}
	p.burst(codeOf(4500)) // it is known now
	if a, b := p.entryOf(5), p.entryOf(6); a.Pattern != b.Pattern || b.Publisher != "Quillon" {
		t.Errorf("scanned again it became %+v, want a further copy", b)
	}
	p.mustShow("further copy of 4500 Hooded cape, by its code")
}

// Who scans a pile looks at the sleeves: no scan waits for the one before.
func TestAPileIsScannedWithoutLookingUp(t *testing.T) {
	p := play(t, intake.ID, sleeves(4107, 4222, 4303))
	for _, n := range []int{4500, 4501, 4222, 4502} {
		p.burst(codeOf(n))
	}
	p.hit("enter")
	for i, want := range []string{"4500", "4501", "4222", "4502"} {
		if en := p.entryOf(model.Accession(4 + i)); en.Number != want || en.Barcode == "" {
			t.Errorf("scan %d was entered as %+v, want %s", i+1, en, want)
		}
	}
}

func TestACodeOfAnotherPlaceAsksForTheNumber(t *testing.T) {
	p := play(t, intake.ID, sleeves(4107), add("Harrow & Pell", "1", "", "", 0)) // one sleeve does not say where numbers stand
	p.burst(codeOf(4500))
	p.mustShow("the code is like those of 1 sleeve: Quillon")
	p.hit("'450", "enter", "'Cape", "enter")
	if en := p.entryOf(3); en.Publisher != "Quillon" || en.Number != "450" || en.Barcode != codeOf(4500) {
		t.Errorf("the entry is %+v, want 450 of Quillon with the code", en)
	}
	p.burst(codeOf(4600))
	p.burst(codeOf(4601)) // its number was not typed
	if en := p.entryOf(4); en.Number != codeOf(4600) || en.Barcode != codeOf(4600) {
		t.Errorf("the entry is %+v, want the code for a number until the owner says better", en)
	}
}

// A scan in the middle of typing is a scan all the same.
func TestAScanBehindWhatWasTyped(t *testing.T) {
	p := play(t, intake.ID, sleeves(4107, 4222, 4303))
	p.hit("'61") // a number half typed
	p.burst(codeOf(4222))
	p.mustShow("further copy of 4222 Cape 4222, by its code")
	p.hit("ctrl+x")
	p.mustShow("Number      61")
	p.hit("'31", "enter", "'Tea go") // a name, as far as anybody will type it
	p.burst(codeOf(4107))
	if a, b := p.entryOf(5), p.entryOf(6); a.Number != "6131" || a.Name != "Tea go" || b.Number != "4107" {
		t.Errorf("they are %+v and %+v, want 6131 Tea go and 4107", a, b)
	}
	p.hit("'61", "ctrl+e", "tab", "shift+tab") // while an earlier one is changed
	p.burst(codeOf(4303))
	if en := p.entryOf(7); en.Number != "4303" {
		t.Errorf("the scan became %+v, want 4303", en)
	}
	p.hit("ctrl+x")
	p.mustShow("Number      61")
}

func TestAnUnknownCodeAsksOnce(t *testing.T) {
	p := play(t, intake.ID, add("Quillon", "1", "", "", 0))
	const code = "6291041500213"
	p.burst(code)
	p.mustShow("the code "+code+" is new and kept; ctrl+e gives it number and name", "1 entered")
	p.hit("'61", "ctrl+e") // in the middle of the next
	p.mustShow("Changing entry 2", "still being typed: 61")
	p.hit("'4107", "enter", "'Tea gown", "enter")
	if en := p.entryOf(2); en.Number != "4107" || en.Name != "Tea gown" || en.Barcode != code {
		t.Errorf("the entry is %+v, want number, name and the code", en)
	}
	p.mustShow("61")
	p.hit("enter", "enter")
	p.burst(code)
	p.mustNotShow("is new")
	if a, b := p.entryOf(2), p.entryOf(4); a.Pattern != b.Pattern {
		t.Errorf("scanned again it became %+v, want a further copy", b)
	}
}

// What is said is saved even if the number is not known: the name alone.
func TestAnUnknownCodeCanBeGivenItsNameAlone(t *testing.T) {
	p := play(t, intake.ID, add("Quillon", "1", "", "", 0))
	p.burst("6291041500213")
	p.hit("ctrl+e", "enter", "'Tea gown", "enter")
	if en := p.entryOf(2); en.Number != "6291041500213" || en.Name != "Tea gown" {
		t.Errorf("the entry is %+v, want its name and still the code", en)
	}
}

// A sleeve whose pattern is listed without a code teaches it.
func TestAFurtherCopyTeachesTheCode(t *testing.T) {
	p := play(t, intake.ID, sleeves(4107, 4222, 4303), add("Quillon", "4500", "Cape", "", 0))
	p.burst(codeOf(4500))
	p.mustShow("enter takes: Cape")
	p.hit("enter")
	if a, b := p.entryOf(4), p.entryOf(5); a.Pattern != b.Pattern || a.Barcode != codeOf(4500) {
		t.Errorf("they are %+v and %+v, want two copies of one pattern that bears the code", a, b)
	}
}

func TestTheSizesOfTheLastEntryDoNotPartAKnownCode(t *testing.T) {
	p := play(t, intake.ID, sleeves(4107), &model.Revise{Entry: model.Entry{Accession: 1, Publisher: "Quillon", Number: "4107", Name: "Cape", SizeRange: "8-14", Barcode: codeOf(4107)}})
	p.hit("'1", "enter", "'Coat", "tab", "tab", "'16-22", "enter")
	p.burst(codeOf(4107))
	if a, b := p.entryOf(1), p.entryOf(3); a.Pattern != b.Pattern {
		t.Errorf("the scan became %+v, want a further copy of %+v", b, a)
	}
}

func TestAboutSoManyInThisDrawer(t *testing.T) {
	p, wind := timed(t, newStore(t, drawer("hall drawer", 36)))
	p.hit("'61", "ctrl+a")
	p.mustShow("About how many lie in hall drawer?")
	p.hit("'120", "enter")
	p.mustShow("noted about 120 in hall drawer", "61")
	if b := p.listed().BatchNamed("hall drawer"); b.Expected != 120 {
		t.Fatalf("the batch is %+v, want 120 expected", b)
	}
	p.hit("enter", "enter")
	p.mustShow("1 entered", "37 of about 120 listed")
	p.mustNotShow("each") // of one entry no pace can be told
	for i := range 3 {
		for _, k := range []string{fmt.Sprint("'", 700+i), "enter", "enter"} {
			wind(6 * time.Second)
			p.hit(k)
		}
		wind(20 * time.Minute) // the telephone: no work
	}
	// The first key of each comes after a pause and is not counted; two keys of
	// six seconds are, and each digit comes at once.
	p.mustShow("4 entered", "40 of about 120 listed", "s each", "min for the 80 left")
}

func TestThePaceLeavesPausesOut(t *testing.T) {
	p, wind := timed(t, newStore(t, drawer("hall drawer", 1), &model.Expect{Batch: "hall drawer", About: 101}))
	for i := range 10 {
		p.hit(fmt.Sprint("'", 700+i))
		wind(9 * time.Second)
		p.hit("enter", "enter")
		if i%2 == 1 {
			wind(3 * time.Hour)
		}
	}
	p.mustShow("11 of about 101 listed · 9 s each · about 15 min for the 90 left")
	p = p.again()
	p.hit("'5")
	p.mustNotShow("each") // another sitting
}

func TestAboutIsANumber(t *testing.T) {
	p := play(t, intake.ID)
	p.hit("ctrl+a")
	p.mustShow("first give the drawer a name")
	p = play(t, intake.ID, drawer("hall drawer", 1))
	p.hit("ctrl+a", "'some", "enter")
	p.mustShow(`"some" is not a number of patterns`)
	p.hit("esc", "ctrl+u", "'99999999999", "enter") // put the message away; ten digits fit
	p.mustShow("not a number of patterns")
	p.hit("esc", "esc")
	if b := p.listed().BatchNamed("hall drawer"); b.Expected != 0 {
		t.Errorf("the batch is %+v, want nothing noted", b)
	}
	p.hit("'77")
	p.mustShow("Number      77")
}

// timed opens Intake with a clock that the test winds.
func timed(t *testing.T, s *storage.Store) (*player, func(time.Duration)) {
	c := &clock{time.Date(2026, 3, 1, 20, 0, 0, 0, time.UTC)}
	return openOn(t, s, nil, c.now), func(d time.Duration) { c.at = c.at.Add(d) }
}
