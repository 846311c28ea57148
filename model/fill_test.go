package model

import (
	"fmt"
	"testing"
)

// A whole cupboard goes into an empty one, record by record and with its counters,
// and into no other.
func TestAWholeCupboardGoesIntoAnEmptyOne(t *testing.T) {
	c, _ := every(t)
	ch := &Fill{Whole: c, From: "all.jsonl"}
	got, delta, err := NewCollection().Apply(ch, day)
	if err != nil {
		t.Fatal(err)
	}
	if err := got.Check(); err != nil {
		t.Fatal(err)
	}
	want := map[string]string{}
	for r := range c.Records() {
		kind, id := r.Key()
		want[fmt.Sprint(kind, id)] = fmt.Sprintf("%+v", r)
	}
	n := 0
	for r := range got.Records() {
		kind, id := r.Key()
		if n++; want[fmt.Sprint(kind, id)] != fmt.Sprintf("%+v", r) {
			t.Errorf("%s %d is %+v, was %s", kind, id, r, want[fmt.Sprint(kind, id)])
		}
	}
	if n != len(want) || got.Counters() != c.Counters() {
		t.Errorf("%d records with %+v, want %d with %+v", n, got.Counters(), len(want), c.Counters())
	}
	if empty := got.ApplyDelta(delta.Inverse()); empty.Copies().Len()+empty.Patterns().Len()+empty.Publishers().Len() != 0 {
		t.Error("undone, something is left")
	}
	if _, _, err := got.Apply(ch, day); !IsInput(err) {
		t.Errorf("filled twice: %v", err)
	}
	if title := ch.Title(nil); title != "imported the cupboard from all.jsonl" {
		t.Errorf("it is called %q", title)
	}
}
