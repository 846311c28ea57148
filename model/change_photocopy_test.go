package model

import (
	"errors"
	"slices"
	"testing"
)

func shirtdress() Entry {
	en := entry("Quillon", "K1", "Coat dress")
	en.Category, en.Also = "Dresses", []string{"Coats", "Hats"}
	return en
}

// copiedIn names the categories that have a photocopy of a pattern's sleeve.
func copiedIn(c *Collection, id PatternID) []string { return c.TitleOf(c.Pattern(id)).Copied }

func TestPhotocopies(t *testing.T) {
	c := do(t, NewCollection(), &Add{Entries: []Entry{shirtdress()}})
	for _, x := range []struct {
		ch   Change
		want []string // nil: refused
	}{
		{&Photocopy{Pattern: 1, Category: "coats"}, []string{"Coats"}},
		{&Photocopy{Pattern: 1, Category: "Coats"}, []string{"Coats"}}, // once more makes no second
		{&Photocopy{Pattern: 1, Category: "Hats"}, []string{"Coats", "Hats"}},
		{&Photocopy{Pattern: 1, Category: "Coats", Out: true}, []string{"Hats"}},
		{&Photocopy{Pattern: 1, Category: "Dresses"}, nil}, // its own
		{&Photocopy{Pattern: 1, Category: "Capes"}, nil},
		{&Photocopy{Pattern: 7, Category: "Hats"}, nil},
	} {
		next, _, err := c.Apply(x.ch, "2026-03-01")
		if x.want == nil {
			if !IsInput(err) {
				t.Errorf("%+v gave %v, want it refused", x.ch, err)
			}
			continue
		}
		if err != nil {
			t.Fatal(err)
		}
		if c = next; !slices.Equal(copiedIn(c, 1), x.want) || c.Check() != nil {
			t.Errorf("%+v: photocopies in %q, want %q (%v)", x.ch, copiedIn(c, 1), x.want, c.Check())
		}
	}
}

// An entry cannot lose the see-also entry and keep the photocopy behind it.
func TestAPhotocopyHasASeeAlsoEntry(t *testing.T) {
	en := shirtdress()
	en.Copied = []string{"Capes"}
	var field *FieldError
	if _, _, err := NewCollection().Apply(&Add{Entries: []Entry{en}}, "2026-03-01"); !errors.As(err, &field) || field.Field != "photocopied_in" {
		t.Errorf("a photocopy where there is no entry gave %v", err)
	}
	en.Copied = []string{"HATS"}
	c := do(t, NewCollection(), &Add{Entries: []Entry{en}})
	revised := c.EntryOf(c.Copy(1))
	revised.Also = []string{"Coats"}
	if _, _, err := c.Apply(&Revise{Entry: revised}, "2026-03-01"); !errors.As(err, &field) {
		t.Errorf("taking the entry away alone gave %v", err)
	}
	revised.Copied = nil
	if c = do(t, c, &Revise{Entry: revised}); len(c.Pattern(1).Copied) != 0 || c.Check() != nil {
		t.Errorf("photocopies in %q (%v)", copiedIn(c, 1), c.Check())
	}
}

// Patterns that become one keep the photocopies of both, but where that is the
// home of the one kept; taken apart again, each has its own.
func TestPhotocopiesOfMergedPatterns(t *testing.T) {
	one, other := shirtdress(), shirtdress()
	one.Copied = []string{"Coats"}
	other.Number, other.Category, other.Also, other.Copied = "K2", "Hats", []string{"Dresses", "Capes"}, []string{"Dresses", "Capes"}
	c := do(t, NewCollection(), &Add{Entries: []Entry{one, other}}, &Merge{Keep: 1, Gone: 2})
	if got, want := copiedIn(c, 1), []string{"Coats", "Capes"}; !slices.Equal(got, want) || c.Check() != nil {
		t.Errorf("merged: photocopies in %q, want %q (%v)", got, want, c.Check())
	}
	c = do(t, c, &Unmerge{Pattern: 1})
	if a, b := copiedIn(c, 1), copiedIn(c, 2); !slices.Equal(a, one.Copied) || !slices.Equal(b, other.Copied) || c.Check() != nil {
		t.Errorf("taken apart: photocopies in %q and %q (%v)", a, b, c.Check())
	}
}
