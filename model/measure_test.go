package model

import (
	"errors"
	"strings"
	"testing"
)

// Nothing but the thicknesses is altered by adopting others.
func TestAdoptAltersThicknessesOnly(t *testing.T) {
	c, _ := every(t)
	was, is := c.ShelfSpec(), Thickness{MM(4.4), MM(8.8), MM(16)}
	next, delta, err := c.Apply(&Adopt{is}, day)
	if err != nil {
		t.Fatal(err)
	}
	if len(delta) != 1 || delta[0].Kind != KindShelf || next.Shelf().Settings.Thickness != is {
		t.Errorf("adopted %v: %v is set, and %d records were touched", is, next.Shelf().Settings.Thickness, len(delta))
	}
	was.Settings.Thickness = is
	if again := do(t, c, &SetShelf{Spec: was}); dump(t, again) != dump(t, next) {
		t.Errorf("adopting gives\n%s\nwant\n%s", dump(t, next), dump(t, again))
	}
	for cp := range c.Copies().All() {
		if copy := c.Copy(Accession(cp)); is.Of(StateOf(copy)) != next.Shelf().Settings.ThicknessOf(copy) {
			t.Errorf("copy %d takes %s, want %s", cp, next.Shelf().Settings.ThicknessOf(copy), is.Of(StateOf(copy)))
		}
	}
}

func TestMeasurementsThatCannotBe(t *testing.T) {
	c := do(t, NewCollection(), oneBox())
	good := Measure{Box: "1", Uncut: 10, Cut: 4, Own: 1, OwnTaken: MM(3), Cards: 2, Card: MM(0.5), Measured: MM(94)}
	for _, x := range []struct {
		says string
		bend func(*Measure)
	}{
		{`no box "attic"`, func(m *Measure) { m.Box = "attic" }},
		{"count", func(m *Measure) { m.Uncut = -1 }},
		{"count", func(m *Measure) { m.Cards = mostCounted + 1 }},
		{"nothing in the box", func(m *Measure) { m.Uncut, m.Cut, m.Own = 0, 0, 0 }},
		{"no length", func(m *Measure) { m.Measured = 0 }},
		{"no length", func(m *Measure) { m.Measured = -5 }},
		{"cards", func(m *Measure) { m.Card = -1 }},
		{"more than box", func(m *Measure) { m.Measured = MM(381) }},
		{"2026-02-30", func(m *Measure) { m.On = "2026-02-30" }},
	} {
		m := good
		x.bend(&m)
		if _, _, err := c.Apply(&TakeMeasure{m}, day); err == nil || !IsInput(err) || !strings.Contains(err.Error(), x.says) {
			t.Errorf("%+v: got error %v, want one for the user that says %q", m, err, x.says)
		}
	}
	if _, _, err := c.Apply(&DropMeasure{ID: 7}, day); !IsInput(err) {
		t.Errorf("a measurement that is not there was dropped (%v)", err)
	}
	for _, took := range []Took{{0, 0, 60}, {1, 1, 0}, {-1, 2, 60}, {1, 1, mostSeconds + 1}} {
		if _, _, err := c.Apply(&Stand{Took: &took}, day); !IsInput(err) {
			t.Errorf("%+v was kept as a pace (%v)", took, err)
		}
	}
	if _, _, err := c.Apply(&Adopt{Thickness{MM(5), 0, MM(20)}}, day); !IsInput(err) {
		t.Errorf("envelopes of no thickness were adopted (%v)", err)
	}
	next := do(t, c, &TakeMeasure{good})
	if m := next.Measures().Get(1); m == nil || m.On != day || m.Estimate(DefaultSettings().Thickness) != MM(10*5+4*10+3+1) {
		t.Errorf("kept is %+v", m)
	}
}

// What an export or a store brings is not trusted.
func TestBuildRefusesMeasurementsThatCannotBe(t *testing.T) {
	for _, r := range []Record{&Measure{ID: 1, Uncut: -3, Measured: MM(5)}, &Pace{ID: 1, Pulled: 1}} {
		_, err := Build(1, Counters{}, func(yield func(Record) bool) { yield(r) })
		if !errors.Is(err, ErrDamaged) {
			t.Errorf("%+v was taken in (%v)", r, err)
		}
	}
}

func TestNumbersOfMeasurementsAreNeverGivenTwice(t *testing.T) {
	m := &TakeMeasure{Measure{Box: "1", Uncut: 10, Measured: MM(50)}}
	c := do(t, NewCollection(), oneBox(), m, m, &DropMeasure{ID: 2}, m)
	if c.Measures().Get(2) != nil || c.Measures().Get(3) == nil || c.Measures().Len() != 2 {
		t.Error("after measurement 2 was dropped the next one must be 3")
	}
	back, err := Build(c.Rev(), c.Counters(), c.Records())
	if err != nil || dump(t, back) != dump(t, c) {
		t.Errorf("built again the measurements differ (%v)", err)
	}
}
