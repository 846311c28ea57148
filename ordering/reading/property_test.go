package reading_test

import (
	"fmt"
	"maps"
	"math/bits"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/ordering/reading"
)

// walk is a box as it really is: what stands in it, and what is read of it.
type walk struct {
	c     *model.Collection
	found []model.Accession // what stands there and is listed, front to back
	texts []string
	odd   int // envelopes that no list knows
}

// drawWalk builds a cupboard of three boxes and a pile, and disturbs box 1: takes
// some away, puts some in from elsewhere, moves some, lends some.
func drawWalk(t *rapid.T, most int, exact bool) walk {
	add := &model.Add{}
	n := rapid.IntRange(1, most).Draw(t, "copies")
	for i := range n {
		en := entry(fmt.Sprint(rapid.IntRange(5000, 5000+2*most).Draw(t, "number")))
		if exact {
			en.Number = fmt.Sprint(5000 + i) // each its own
		}
		en.Publisher = rapid.SampledFrom([]string{"Harrow & Pell", "Quillon"}).Draw(t, "publisher")
		en.Box = rapid.SampledFrom([]string{"1", "1", "1", "0", "2", ""}).Draw(t, "box")
		if en.Box != "" {
			en.Position = rapid.IntRange(1, most).Draw(t, "position") // in no order at all
		}
		add.Entries = append(add.Entries, en)
	}
	w := walk{c: do(t, model.NewCollection(), shelf(), add)}
	here := w.c.Row(boxOne)
	for a := range model.Accession(n) {
		a++
		if rapid.IntRange(0, 4).Draw(t, "out") == 0 {
			w.c = do(t, w.c, &model.TakeOut{Copy: a})
		}
		stands := slices.Contains(here, a)
		if chance := rapid.IntRange(0, 4).Draw(t, "is there"); stands && chance > 0 || !stands && chance == 0 {
			w.found = append(w.found, a)
		}
	}
	slices.SortStableFunc(w.found, func(a, b model.Accession) int { return slices.Index(here, a) - slices.Index(here, b) })
	for range rapid.IntRange(0, 3).Draw(t, "moves") {
		if len(w.found) > 1 {
			i, j := rapid.IntRange(0, len(w.found)-1).Draw(t, "from"), rapid.IntRange(0, len(w.found)-1).Draw(t, "to")
			a := w.found[i]
			w.found = slices.Insert(slices.Delete(w.found, i, i+1), j, a)
		}
	}
	for _, a := range w.found {
		switch rapid.IntRange(0, 9).Draw(t, "between") {
		case 0:
			w.texts = append(w.texts, "-")
		case 1:
			w.odd++
			w.texts = append(w.texts, "Zz Umbrow 1")
		}
		text := fmt.Sprintf("#%d", a)
		if p := w.c.PatternOf(a); exact && rapid.Bool().Draw(t, "printed") {
			text = p.Number
		}
		w.texts = append(w.texts, text)
	}
	return w
}

// longest is the longest run of the row, in order, that was found: by trying
// every part of the row. Nothing of it is shared with what is tested.
func longest(row, found []model.Accession) int {
	best := 0
	for set := range 1 << len(row) {
		if n := bits.OnesCount(uint(set)); n > best && inOrder(row, set, found) {
			best = n
		}
	}
	return best
}

func inOrder(row []model.Accession, set int, found []model.Accession) bool {
	rest := found
	for i, a := range row {
		if set&(1<<i) == 0 {
			continue
		}
		at := slices.Index(rest, a)
		if at < 0 {
			return false
		}
		rest = rest[at+1:]
	}
	return true
}

func setOf(list []model.Accession) map[model.Accession]bool {
	out := map[model.Accession]bool{}
	for _, a := range list {
		out[a] = true
	}
	return out
}

func TestReadingOfADisturbedBox(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) { checkWalk(t, drawWalk(t, 8, rapid.Bool().Draw(t, "exact"))) })
}

func checkWalk(t *rapid.T, w walk) {
	rep, row := readAll(t, w.c, "1", w.texts...), w.c.Row(boxOne)
	missing, back, placed := map[model.Accession]bool{}, map[model.Accession]bool{}, setOf(w.found)
	for _, a := range row {
		if !placed[a] && w.c.Copy(a).Out == nil {
			missing[a] = true
		}
	}
	for _, a := range w.found {
		if w.c.Copy(a).Out != nil {
			back[a] = true
		}
	}
	if got := setOf(rep.Missing); !maps.Equal(got, missing) {
		t.Fatalf("missing are %v, said to be %v, of row %v found as %v", missing, got, row, w.found)
	}
	if got := setOf(rep.FoundOut()); !maps.Equal(got, back) {
		t.Fatalf("found though out are %v, said to be %v", back, got)
	}
	if got := len(rep.Of(reading.Unlisted)); got != w.odd || len(rep.Of(reading.Ambiguous))+len(rep.Of(reading.Again)) > 0 {
		t.Fatalf("%d are not listed, said to be %d; findings %+v", w.odd, got, rep.Findings)
	}
	if got, want := len(rep.Of(reading.Misplaced)), len(w.found)-longest(row, w.found); got != want {
		t.Fatalf("%d are called misplaced, %d is the least, of row %v found as %v", got, want, row, w.found)
	}
	checkRecorded(t, w, rep)
}

// checkRecorded records the box as found and reads it again.
func checkRecorded(t *rapid.T, w walk, rep *reading.Report) {
	ch, err := rep.Record()
	if len(w.texts) == 0 {
		if !model.IsInput(err) {
			t.Fatalf("a box in which nothing was read is recorded (%v)", err)
		}
		return
	}
	if err != nil {
		t.Fatalf("%v", err)
	}
	c := w.c
	if ch != nil {
		c = do(t, c, ch)
	}
	isOut := func(a model.Accession) bool { return c.Copy(a).Out != nil }
	if got := slices.DeleteFunc(slices.Clone(c.Row(boxOne)), isOut); !slices.Equal(got, w.found) {
		t.Fatalf("found was %v, recorded is %v", w.found, got)
	}
	for _, a := range w.c.Row(boxOne) {
		if w.c.Copy(a).Out != nil && !slices.Contains(c.Row(boxOne), a) {
			t.Fatalf("copy %d is out and lost its slot: recorded is %v", a, c.Row(boxOne))
		}
	}
	checkSlots(t, rep, w.c.Row(boxOne), c.Row(boxOne))
	for _, cp := range c.Copies().All() {
		_, stands := c.Standing(cp.Accession)
		if lost := slices.Contains(rep.Missing, cp.Accession); lost != (cp.Missing == day) || lost && stands {
			t.Fatalf("copy %d, missing by the reading: %v, is noted as missing on %q and stands: %v", cp.Accession, lost, cp.Missing, stands)
		}
	}
	again := readAll(t, c, "1", w.texts...)
	if n := len(again.Of(reading.Misplaced)); n > 0 || len(again.Missing) > 0 || len(again.FoundOut()) > 0 || len(again.Of(reading.Unlisted)) != w.odd {
		t.Fatalf("read again, the box is not as recorded: %+v", again)
	}
	if ch, err := again.Record(); ch != nil || err != nil {
		t.Fatalf("read again, there is something to record: %+v (%v)", ch, err)
	}
}

// checkSlots: what is out and was not found keeps its slot between those that
// are in place.
func checkSlots(t *rapid.T, rep *reading.Report, was, is []model.Accession) {
	for _, o := range rep.Out {
		for _, f := range rep.Of(reading.InPlace) {
			if before, now := slices.Index(was, f.Copy) < slices.Index(was, o), slices.Index(is, f.Copy) < slices.Index(is, o); before != now {
				t.Fatalf("the slot of copy %d, which is out, went past copy %d: it was %v and is %v", o, f.Copy, was, is)
			}
		}
	}
}

// Every order in which a row of up to so many can be found.
func TestFewestMisplacedInEveryOrder(t *testing.T) {
	longestRow := 7
	if !testing.Short() {
		longestRow = 8
	}
	c := do(t, model.NewCollection(), shelf(), rowOf(longestRow))
	row := c.Row(boxOne)
	layout := ordering.Arrange(c)
	b, _ := c.Shelf().BoxNamed("1")
	tried := 0
	var permute func(r *reading.Reader, found []model.Accession)
	permute = func(r *reading.Reader, found []model.Accession) {
		if len(found) == len(row) {
			tried++
			got := 0
			for _, f := range r.Report().Findings {
				if f.Kind == reading.Misplaced {
					got++
				}
			}
			if want := len(row) - longest(row, found); got != want {
				t.Fatalf("%v: %d are called misplaced, %d is the least", found, got, want)
			}
			return
		}
		for _, a := range row {
			if !slices.Contains(found, a) {
				next := reading.New(layout, b)
				for _, f := range append(slices.Clone(found), a) {
					next.Take(fmt.Sprintf("#%d", f))
				}
				permute(next, append(slices.Clone(found), a))
			}
		}
	}
	permute(reading.New(layout, b), nil)
	if want := map[int]int{7: 5040, 8: 40320}[longestRow]; tried != want {
		t.Errorf("%d orders were tried, there are %d", tried, want)
	}
}

func rowOf(n int) *model.Add {
	add := &model.Add{}
	for i := range n {
		en := entry(fmt.Sprint(100 + i))
		en.Box, en.Position = "1", i+1
		add.Entries = append(add.Entries, en)
	}
	return add
}

// Nobody can tell by number which of a few twins was found; but how many are
// found and missing is known, and a second reading is clean.
func TestReadingOfTwins(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		add := &model.Add{}
		n := rapid.IntRange(1, 7).Draw(t, "copies")
		pattern := map[string]model.PatternID{} // so that twins are copies of one pattern
		for i := range n {
			en := entry(fmt.Sprint(rapid.IntRange(100, 103).Draw(t, "number")))
			if _, known := pattern[en.Number]; !known {
				pattern[en.Number] = model.PatternID(len(pattern) + 1)
			}
			en.Pattern, en.Box, en.Position = pattern[en.Number], "1", i+1
			add.Entries = append(add.Entries, en)
		}
		c := do(t, model.NewCollection(), shelf(), add)
		found := rapid.Permutation(c.Row(boxOne)).Draw(t, "order")[:rapid.IntRange(1, n).Draw(t, "found")]
		var texts []string
		for _, a := range found {
			texts = append(texts, c.PatternOf(a).Number)
		}
		rep := readAll(t, c, "1", texts...)
		if got := len(rep.Missing); got != n-len(found) || len(rep.Of(reading.InPlace))+len(rep.Of(reading.Misplaced)) != len(found) {
			t.Fatalf("%d of %d were found, %d are said to be missing: %+v", len(found), n, got, rep)
		}
		if ch, err := rep.Record(); err != nil {
			t.Fatalf("%v", err)
		} else if ch != nil {
			c = do(t, c, ch)
		}
		again := readAll(t, c, "1", texts...)
		if len(again.Of(reading.InPlace)) != len(found) || len(again.Missing) > 0 {
			t.Fatalf("read again, the box is not as recorded: %+v", again)
		}
	})
}

// What is said of the last envelope read is what the report says of it, and
// taking it back and reading it again changes nothing.
func TestReaderAgreesWithItsReport(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := drawWalk(t, 8, true)
		b, _ := w.c.Shelf().BoxNamed("1")
		r := reading.New(ordering.Arrange(w.c), b)
		for i, text := range w.texts {
			f := r.Read(text)
			last := r.Report().Findings[i]
			if say(f) != say(last) {
				t.Fatalf("%s is %s, in the report %s", text, say(f), say(last))
			}
			r.Unread()
			if again := r.Read(text); say(again) != say(f) {
				t.Fatalf("%s is %s, read again %s", text, say(f), say(again))
			}
		}
	})
}
