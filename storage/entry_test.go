package storage

import (
	"context"
	"errors"
	"strings"
	"testing"

	"example.org/tuckrow/model"
)

// A collection is never altered: not through an entry made of one of its
// copies either.
func TestAnEntryIsNotTheCopyItself(t *testing.T) {
	s := openMemory(t)
	out := entryOf("Quillon", "1", "")
	out.Out = &model.Out{Since: "2026-01-02", To: "Ada"}
	s.do(&model.Add{Entries: []model.Entry{out}})
	en := s.Collection().EntryOf(s.Collection().Copy(1))
	f, _ := model.FieldNamed("out_to")
	if err := f.Set(&en, "somebody else"); err != nil {
		t.Fatal(err)
	}
	if got := s.Collection().Copy(1).Out.To; got != "Ada" {
		t.Errorf("filling in an entry made the store say that %q has it", got)
	}
	s.verified()
}

// What comes back by a delta is found by its name, and so is not entered twice.
func TestNamesThatComeBackAreFound(t *testing.T) {
	c := model.NewCollection()
	_, delta, err := c.Apply(&model.Add{Entries: []model.Entry{entryOf("Quillon", "1", "")}}, day)
	if err != nil {
		t.Fatal(err)
	}
	if c.PublisherNamed("Quillon") != nil {
		t.Fatal("an empty collection has a publisher")
	}
	if again := c.ApplyDelta(delta); again.PublisherNamed("Quillon") == nil {
		t.Error("the publisher that came back is not found by its name")
	}
}

// Changes that no field and no screen makes, but a file of changes could hold.
func TestValuesThatNoFieldLetsIn(t *testing.T) {
	both(t, func(t *testing.T, s *cupboard) {
		for what, spoil := range map[string]func(en *model.Entry){
			"medium": func(en *model.Entry) { en.Medium = "\xff" }, "cut": func(en *model.Entry) { en.Cut = "Uncut" },
			"home": func(en *model.Entry) { en.Home = "attic" }, "sleeve": func(en *model.Entry) { en.Sleeve = "lost\x1b" },
			"added": func(en *model.Entry) { en.Added = "yesterday" }, "out_since": func(en *model.Entry) { en.Out = &model.Out{Since: "x"} },
			"year": func(en *model.Entry) { en.Year = -1 }, "position": func(en *model.Entry) { en.Position = -1 },
			"accession": func(en *model.Entry) { en.Accession = 1<<32 - 1 }, "thickness": func(en *model.Entry) { en.Thickness = -1 },
		} {
			en := entryOf("Quillon", "1", "")
			spoil(&en)
			_, err := s.Commit(context.Background(), &model.Add{Entries: []model.Entry{en}})
			if !model.IsInput(err) || !strings.Contains(err.Error(), what) {
				t.Errorf("%s: got %v, want an error for the user that names it", what, err)
			}
		}
		s.do(&model.SetShelf{Spec: model.ShelfSpec{Settings: func() model.Settings { d := model.DefaultSettings(); d.Envelope = "C5\xff\x1b[31m"; return d }()}})
		s.reopen()
		s.verified()
		if got := s.Collection().Shelf().Settings.Envelope; got != "C5[31m" {
			t.Errorf("the envelope is %q", got)
		}
	})
}

// One high number must neither fill the memory nor end the counting.
func TestAHighAccessionNumber(t *testing.T) {
	s := openMemory(t)
	high := entryOf("Quillon", "1", "")
	high.Accession, high.Box = 9_999_999, "1"
	s.do(&model.Add{Boxes: []model.BoxSpec{{Name: "1", Length: 100}}, Entries: []model.Entry{high, entryOf("Quillon", "2", "")}})
	if spot, ok := s.Collection().Standing(9_999_999); !ok || spot.Index != 0 {
		t.Errorf("it stands at %v, %v", spot, ok)
	}
	s.do(&model.Add{Entries: []model.Entry{entryOf("Quillon", "3", "")}})
	for _, a := range []model.Accession{1, 2} { // counted on below it
		if s.Collection().Copy(a) == nil {
			t.Errorf("no copy got the number %d", a)
		}
	}
	for _, a := range []model.Accession{0, 1, 10_000_000, 1<<32 - 1} {
		if _, ok := s.Collection().Standing(a); ok {
			t.Errorf("copy %d stands somewhere", a)
		}
	}
	if _, err := model.Build(1, model.Counters{Copy: 1<<32 - 1}, func(func(model.Record) bool) {}); !errors.Is(err, model.ErrDamaged) {
		t.Errorf("numbers without end were taken: %v", err)
	}
}
