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

// A scan in the middle of typing enters nothing that was typed. A sleeve that is
// known to be another one is taken all the same, and what was typed comes back
// by itself.
func TestAScanOfAnotherSleeveBehindWhatWasTyped(t *testing.T) {
	p := play(t, intake.ID, sleeves(4107, 4222, 4303))
	p.hit("'61") // a number half typed
	p.burst(codeOf(4222))
	p.mustShow("further copy of 4222 Cape 4222, by its code; back again: 61", "Number      61")
	p.burst(codeOf(4107)) // and the next, without looking up
	p.mustShow("further copy of 4107 Cape 4107, by its code; back again: 61")
	p.hit("'31", "enter", "'Tea go") // a name half typed
	p.burst(codeOf(4107))
	p.mustShow("6131", "Tea go")
	p.hit("'wn", "enter")
	for a, want := range map[model.Accession]string{4: "4222", 5: "4107", 6: "4107"} {
		if en := p.entryOf(a); en.Number != want {
			t.Errorf("scan %d became %+v, want %s", a, en, want)
		}
	}
	if en := p.entryOf(7); en.Number != "6131" || en.Name != "Tea gown" || en.Barcode != "" {
		t.Errorf("what was typed became %+v, want 6131 Tea gown without a code", en)
	}
	p.hit("'61", "ctrl+e", "tab", "shift+tab") // while an earlier one is changed
	p.burst(codeOf(4303))
	if en := p.entryOf(8); en.Number != "4303" {
		t.Errorf("the scan became %+v, want 4303", en)
	}
	p.mustShow("Number      61")
}

// A code that is nobody's belongs to the sleeve whose entry is being typed.
func TestAScanBehindWhatWasTypedIsItsBarcode(t *testing.T) {
	const code = "6291041500213"
	for _, x := range []struct {
		what  string
		keys  []string
		after []string
		want  model.Entry
	}{
		{"half a name", []string{"'6131", "enter", "'Tea go"}, []string{"'wn", "enter"}, model.Entry{Number: "6131", Name: "Tea gown", Barcode: code}},
		{"half a number", []string{"'61"}, []string{"'31", "enter", "enter"}, model.Entry{Number: "6131", Barcode: code}},
		{"a name alone", []string{"tab", "'Tea gown"}, []string{"enter"}, model.Entry{Name: "Tea gown", Barcode: code}},
		{"half a category", []string{"'6131", "tab", "tab", "'coa"}, []string{"enter"}, model.Entry{Number: "6131", Category: "Coats", Barcode: code}},
		{"sizes", []string{"'6131", "tab", "tab", "tab", "'8-1"}, []string{"'4", "enter"}, model.Entry{Number: "6131", SizeRange: "8-14", Barcode: code}},
		{"half a batch", []string{"'6131", "shift+tab", "shift+tab", "'att"}, []string{"'ic", "enter"}, model.Entry{Number: "6131", Batch: "attic", Barcode: code}},
		{"no barcode but a number, it says", []string{"'61"}, []string{"ctrl+g", "enter", "enter"}, model.Entry{Number: code}},
		{"and a barcode after all", []string{"'61"}, []string{"ctrl+g", "ctrl+g", "'31", "enter", "enter"}, model.Entry{Number: "6131", Barcode: code}},
	} {
		t.Run(x.what, func(t *testing.T) {
			p := play(t, intake.ID, sleeves(4107))
			p.hit(x.keys...)
			p.burst(code)
			if n := p.listed().Copies().Len(); n != 1 {
				t.Fatalf("the scan has entered something:\n%s", p.root.View())
			}
			p.mustShow("the code " + code + " goes with this sleeve")
			p.hit(x.after...)
			en := p.entryOf(2)
			if en.Number != x.want.Number || en.Name != x.want.Name || en.Barcode != x.want.Barcode || en.SizeRange != x.want.SizeRange || en.Batch != x.want.Batch || x.want.Category != "" && en.Category != x.want.Category {
				t.Errorf("it became %+v, want %+v", en, x.want)
			}
		})
	}
}

// The sleeve in hand may be known: what was begun of it is filled in, and not
// entered.
func TestAScanOfTheSleeveBeingTyped(t *testing.T) {
	p := play(t, intake.ID, sleeves(4107, 4222), add("Harrow & Pell", "1", "", "", 0))
	p.hit("'42")
	p.burst(codeOf(4222))
	p.mustShow("Quillon", "4222", "Cape 4222", "a further copy")
	if n := p.listed().Copies().Len(); n != 3 {
		t.Fatalf("%d copies are listed, want 3: nothing was entered by hand yet", n)
	}
	p.hit("enter", "enter")
	if a, b := p.entryOf(2), p.entryOf(4); a.Pattern != b.Pattern {
		t.Errorf("it became %+v, want a further copy", b)
	}
}

// A scan while the one before waits for its name: what a hand has typed of that
// is not entered by it either.
func TestAScanBehindAHalfTypedNameOfAScannedSleeve(t *testing.T) {
	p := play(t, intake.ID, sleeves(4107, 4222, 4303))
	p.burst(codeOf(4500))
	p.hit("'Hooded ca")
	p.burst(codeOf(4501))
	p.mustShow("4501", "1 aside")
	if n := p.listed().Copies().Len(); n != 3 {
		t.Fatalf("%d copies are listed, want 3", n)
	}
	p.hit("'Coat", "enter")
	p.mustShow("back again: 4500 Hooded ca")
	p.hit("'pe", "enter")
	if a, b := p.entryOf(4), p.entryOf(5); a.Number != "4501" || a.Name != "Coat" || b.Number != "4500" || b.Name != "Hooded cape" || b.Barcode != codeOf(4500) {
		t.Errorf("they are %+v and %+v", a, b)
	}
}

func TestAScanGivesAnEarlierEntryItsBarcode(t *testing.T) {
	const code = "6291041500213"
	p := play(t, intake.ID, add("Quillon", "1", "Cape", "", 0))
	p.hit("ctrl+e")
	p.burst(code)
	p.mustShow("Changing entry 1", "the code "+code+" goes with this entry")
	p.hit("esc")
	p = p.again() // not saved, and not lost
	p.hit("ctrl+e")
	p.mustShow("with the code " + code)
	p.hit("enter", "enter")
	if en := p.entryOf(1); en.Barcode != code || en.Number != "1" || en.Name != "Cape" {
		t.Errorf("saved it is %+v, want its code noted and the rest as it was", en)
	}
	p.hit("ctrl+e")
	p.burst(code)
	p.mustShow("that is its code already")
	if n := p.listed().Copies().Len(); n != 1 {
		t.Errorf("%d copies are listed, want 1", n)
	}
}

// A barcode typed by hand is one, whatever key leaves the field; and it is shown
// to be one before that.
func TestABarcodeTypedByHand(t *testing.T) {
	const code = "6291041500213"
	for _, key := range []string{"tab", "shift+tab", "up", "down"} {
		p := play(t, intake.ID, add("Quillon", "1", "Cape", "", 0))
		p.hit("'" + code)
		p.mustShow(code + " is a barcode: enter takes it as one; ctrl+g: it is a number")
		p.hit(key)
		p.mustShow("the code " + code + " goes with this sleeve")
		p.hit("esc", "'220", "enter", "'Coat", "enter")
		if en := p.entryOf(2); en.Number != "220" || en.Barcode != code {
			t.Errorf("%s: it became %+v, want 220 with its code", key, en)
		}
		p.hit("'"+code, key) // typed again
		p.mustShow("220", "Coat", "a further copy")
		if n := p.listed().Copies().Len(); n != 2 {
			t.Errorf("%s: %d copies are listed, want 2: it was not Enter", key, n)
		}
	}
}

// What looks like a barcode and is a number, its owner says so.
func TestANumberThatLooksLikeABarcode(t *testing.T) {
	const number = "6291041500213"
	p := play(t, intake.ID, add("Quillon", "1", "Cape", "", 0))
	p.hit("'"+number, "ctrl+g")
	p.mustShow(number + " is taken for a number, not for a barcode")
	p = p.again() // in the middle of it
	p.hit("enter", "'Coat", "enter")
	if en := p.entryOf(2); en.Number != number || en.Name != "Coat" || en.Barcode != "" {
		t.Fatalf("it became %+v, want its number and no barcode", en)
	}
	p.burst("042100005264") // entered with the code for a number
	p.hit("ctrl+e")
	p.mustShow("not known yet")
	p.hit("ctrl+g", "enter", "'Hat", "enter")
	if en := p.entryOf(3); en.Number != "042100005264" || en.Name != "Hat" || en.Barcode != "" {
		t.Errorf("it became %+v, want its number and no barcode", en)
	}
	p.hit("ctrl+g")
	p.mustShow("no barcode is typed here")
}

// What a scanner reads that is no barcode of a sleeve must not enter what a hand
// has half typed.
func TestAScanThatIsNoBarcode(t *testing.T) {
	p, wind := timed(t, newStore(t, add("Quillon", "1", "Cape", "", 0)))
	p.hit("'61", "enter", "'Tea go")
	wind(3 * time.Second)
	p.burst("X00-1234-7")
	p.mustShow("a scanner has typed here, and it is no barcode", "Tea goX00-1234-7")
	if n := p.listed().Copies().Len(); n != 1 {
		t.Fatalf("%d copies are listed, want 1", n)
	}
	wind(3 * time.Second)
	p.hit("enter") // it is so
	if en := p.entryOf(2); en.Name != "Tea goX00-1234-7" {
		t.Errorf("it became %+v", en)
	}
	p.hit("'62", "enter")
	for _, r := range "Belted coat" { // by a hand, however long it is
		p.hit("'" + string(r))
		wind(120 * time.Millisecond)
	}
	p.hit("enter")
	if en := p.entryOf(3); en.Name != "Belted coat" {
		t.Errorf("typed by hand it became %+v", en)
	}
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
	p.hit("'77", "ctrl+a", "'12", "esc") // not now
	p.mustShow("Number      77")
	if b := p.listed().BatchNamed("hall drawer"); b.Expected != 0 {
		t.Errorf("the batch is %+v, want nothing noted", b)
	}
}

// timed opens Intake with a clock that the test winds.
func timed(t *testing.T, s *storage.Store) (*player, func(time.Duration)) {
	c := &clock{time.Date(2026, 3, 1, 20, 0, 0, 0, time.UTC)}
	return openOn(t, s, nil, c.now), func(d time.Duration) { c.at = c.at.Add(d) }
}
