package exchange_test

import (
	"bytes"
	"context"
	"io"
	"strings"
	"testing"
	"time"

	"example.org/tuckrow/model"
	"example.org/tuckrow/storage"
	"example.org/tuckrow/storage/exchange"
	"pgregory.net/rapid"
)

func store(t testing.TB) *storage.Store {
	t.Helper()
	s, err := storage.Open("", storage.Options{InMemory: true, Now: func() time.Time { return time.Date(2026, 3, 1, 12, 0, 0, 0, time.Local) }})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	})
	return s
}

// text is what a writer writes.
func text(t testing.TB, write func(io.Writer, *model.Collection) error, c *model.Collection) string {
	t.Helper()
	var b bytes.Buffer
	if err := write(&b, c); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func jsonl(t testing.TB, c *model.Collection) string { return text(t, exchange.WriteJSONL, c) }
func csv(t testing.TB, c *model.Collection) string   { return text(t, exchange.WriteCSV, c) }

// stored puts what is read of an export into a store and gives what it holds.
func stored(t testing.TB, rt *rapid.T, lines string) *model.Collection {
	whole, err := exchange.ReadJSONL(strings.NewReader(lines))
	if err != nil {
		rt.Fatal(err)
	}
	s := store(t)
	if _, err := s.Fill(context.Background(), whole, "all"); err != nil {
		rt.Fatal(err)
	}
	if _, err := s.Verify(); err != nil {
		rt.Fatal(err)
	}
	if err := s.Close(); err != nil {
		rt.Fatal(err)
	}
	return s.Collection()
}

func TestRoundTripsThroughAStore(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		c := exchange.AnyCupboard.Draw(rt, "cupboard")
		s := store(t)
		im, err := exchange.ReadCSV(strings.NewReader(csv(t, c)), nil)
		if err != nil {
			rt.Fatal(err)
		}
		if _, err := s.Commit(t.Context(), im.Plan(s.Collection(), "", "a.csv").Change); err != nil {
			rt.Fatal(err)
		}
		if _, err := s.Verify(); err != nil {
			rt.Fatal(err)
		}
		if got := csv(t, s.Collection()); got != csv(t, c) {
			rt.Fatalf("CSV that went through a store is not what it was:\n%s\nit was\n%s", got, csv(t, c))
		}
		if err := s.Close(); err != nil {
			rt.Fatal(err)
		}
		if got := jsonl(t, stored(t, rt, jsonl(t, c))); got != jsonl(t, c) {
			rt.Fatalf("JSON Lines that went through a store are not what they were:\n%s\nthey were\n%s", got, jsonl(t, c))
		}
	})
}

func TestMeasurementsGoThroughAStore(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		lines := jsonl(t, exchange.AnyMeasured.Draw(rt, "cupboard"))
		if got := jsonl(t, stored(t, rt, lines)); got != lines {
			rt.Fatalf("came back as\n%s\nit was\n%s", got, lines)
		}
	})
}

// A change that is refused leaves the store as it was.
func TestNothingIsStoredOfAFileThatIsRefused(t *testing.T) {
	s := store(t)
	im, err := exchange.ReadCSV(strings.NewReader("publisher,number,box\nQuillon,1,a\nQuillon,2,b\n"), nil)
	if err != nil {
		t.Fatal(err)
	}
	p := im.Plan(s.Collection(), "", "f.csv")
	p.Change.Entries[1].Publisher = "" // as if a check had been forgotten
	before := jsonl(t, s.Collection())
	if _, err := s.Commit(t.Context(), p.Change); !model.IsInput(err) {
		t.Errorf("got %v, want the change to be refused", err)
	}
	if jsonl(t, s.Collection()) != before {
		t.Error("a change that was refused left something behind")
	}
	if _, err := s.Verify(); err != nil {
		t.Error(err)
	}
}
