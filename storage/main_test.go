package storage

import (
	"bytes"
	"context"
	"encoding/binary"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"example.org/tuckrow/model"
	"example.org/tuckrow/storage/exchange"
	"github.com/dgraph-io/badger/v4"
)

// childDo names the environment variable that makes the test binary play a
// tuckrow of its own, to be watched and killed.
const childDo = "TUCKROW_TEST_CHILD"

func TestMain(m *testing.M) {
	if do := os.Getenv(childDo); do != "" {
		if err := child(do, os.Getenv(childDo+"_STORE")); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		return
	}
	os.Exit(m.Run())
}

const day model.Date = "2026-03-01"

func noon() time.Time { return time.Date(2026, 3, 1, 12, 0, 0, 0, time.Local) }

// cupboard is a store under test that can be closed and opened again.
type cupboard struct {
	*Store
	t      testing.TB
	dir    string
	memory bool
}

func openAt(t testing.TB, dir string) *cupboard {
	t.Helper()
	c := &cupboard{t: t, dir: dir}
	c.open()
	t.Cleanup(c.shut)
	return c
}

func openMemory(t testing.TB) *cupboard {
	t.Helper()
	c := &cupboard{t: t, memory: true}
	c.open()
	t.Cleanup(c.shut)
	return c
}

func (c *cupboard) open() {
	c.t.Helper()
	s, err := Open(c.dir, Options{InMemory: c.memory, Now: noon})
	if err != nil {
		c.t.Fatal(err)
	}
	c.Store = s
}

func (c *cupboard) shut() {
	c.t.Helper()
	if err := c.Close(); err != nil {
		c.t.Errorf("closing: %v", err)
	}
}

// reopen closes the store and opens it again; in memory there is nothing to be
// opened again.
func (c *cupboard) reopen() {
	c.t.Helper()
	if !c.memory {
		c.shut()
		c.open()
	}
}

// both runs a test over a store in memory and one on disk.
func both(t *testing.T, test func(t *testing.T, s *cupboard)) {
	t.Run("memory", func(t *testing.T) { test(t, openMemory(t)) })
	t.Run("disk", func(t *testing.T) { test(t, openAt(t, t.TempDir())) })
}

func (c *cupboard) do(changes ...model.Change) {
	c.t.Helper()
	for _, ch := range changes {
		if _, err := c.Commit(context.Background(), ch); err != nil {
			c.t.Fatalf("%T: %v", ch, err)
		}
	}
}

// verified fails the test unless disk and memory agree.
func (c *cupboard) verified() {
	c.t.Helper()
	want := 0
	for range c.Collection().Records() {
		want++
	}
	if n, err := c.Verify(); err != nil || n != want {
		c.t.Fatalf("verify read %d records and says %v, want %d and no error", n, err, want)
	}
}

func export(t testing.TB, c *model.Collection) string {
	t.Helper()
	var b bytes.Buffer
	if err := exchange.WriteJSONL(&b, c); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// records is an export without its first and last line: all but the counters,
// which an undo leaves as they are.
func records(t testing.TB, c *model.Collection) string {
	t.Helper()
	lines := strings.SplitAfter(export(t, c), "\n")
	return strings.Join(lines[1:len(lines)-2], "")
}

// keys is all that Badger holds.
func (c *cupboard) keys(prefix ...byte) map[string]string {
	c.t.Helper()
	all := map[string]string{}
	err := c.db.View(func(txn *badger.Txn) error {
		it := txn.NewIterator(badger.IteratorOptions{Prefix: prefix})
		defer it.Close()
		for it.Rewind(); it.Valid(); it.Next() {
			v, err := it.Item().ValueCopy(nil)
			if err != nil {
				return err
			}
			all[string(it.Item().Key())] = string(v)
		}
		return nil
	})
	if err != nil {
		c.t.Fatal(err)
	}
	return all
}

// keysBehind is how much of a revision is there that the store is not at yet.
func (c *cupboard) keysBehind() (n int) {
	for _, prefix := range []byte{keyBefore, keyHistory} {
		for key := range c.keys(prefix) {
			if binary.BigEndian.Uint64([]byte(key)[1:]) > c.Collection().Rev() {
				n++
			}
		}
	}
	return n
}

// tidy fails the test where something is left of a large change.
func (c *cupboard) tidy() {
	c.t.Helper()
	if n := c.keysBehind(); n != 0 {
		c.t.Errorf("%d keys of a later revision are left", n)
	}
	for key := range c.keys(keyBefore) {
		var line entry
		rev := binary.BigEndian.Uint64([]byte(key)[1:])
		err := c.db.View(func(txn *badger.Txn) error { return get(txn, historyKey(rev), &line) })
		if piece := int(binary.BigEndian.Uint32([]byte(key)[9:])); err != nil || piece >= line.Pieces {
			c.t.Errorf("piece %d of revision %d is left, of which there are %d (%v)", piece, rev, line.Pieces, err)
		}
	}
	m, err := c.metaOnDisk()
	if err != nil || m.Writing != 0 || m.Pieces != 0 {
		c.t.Errorf("the store is at %+v (%v)", m, err)
	}
}

func entryOf(publisher, number, name string) model.Entry {
	return model.Entry{Publisher: publisher, Number: number, Name: name}
}

// entries makes n entries of a few publishers.
func entries(n int) []model.Entry {
	houses := []string{"Harrow & Pell", "Quillon", "Thimbrell Row"}
	out := make([]model.Entry, n)
	for i := range out {
		out[i] = entryOf(houses[i%len(houses)], fmt.Sprint(1000+i), fmt.Sprintf("Wrap dress %d", i))
		out[i].Category, out[i].Year = "Dresses", 1950+i%70
	}
	return out
}

// everyKind is one change of every kind and some more, that work one after
// another from empty on.
func everyKind() []model.Change {
	hung := entryOf("Home", "", "Apron")
	hung.Medium, hung.Hook, hung.Tags = model.Printed, "door 3", []string{"inherited", "old"}
	boxed := entryOf("Quillon", "K12", "Cape")
	boxed.Box, boxed.Batch, boxed.Thickness = "1", "hall drawer", model.MM(12.5)
	boxed.Out = &model.Out{Since: "2026-01-02", To: "the neighbour", For: "a hem"}
	spec := model.ShelfSpec{
		Settings:   model.DefaultSettings(),
		Sections:   []model.SectionSpec{{Title: "Quillon", Publishers: []string{"Quillon"}}, {Title: "Rest", Publishers: []string{"*"}, NewBox: true}},
		Boxes:      []model.BoxSpec{{Name: "1", Length: model.MM(380), Place: "top"}, {Name: "2", Length: model.MM(300)}},
		Publishers: []model.PublisherSpec{{Name: "Quillon", FilesAs: "Qillon", Numbers: model.PrefixFirst}},
		Binders:    []model.BinderSpec{{Category: "Dresses", Pockets: 75}},
		Hooks:      []model.HookSpec{{Name: "door", Hooks: 12, Each: 3}},
	}
	return []model.Change{
		&model.SetShelf{Spec: spec},
		&model.Add{Entries: []model.Entry{boxed, entryOf("Quillon", "K7", "Coat"), entryOf("Harrow & Pell", "6123", "Wrap dress"), hung}},
		&model.Tick{Copies: []model.Accession{2, 3}, Step: model.StepSleeve},
		&model.Tick{Copies: []model.Accession{3}, Step: model.StepEnvelope},
		&model.Stand{Rows: []model.NamedRow{{Box: "1", Copies: []model.Accession{2, 1}}}, Boxes: []model.BoxSpec{{Name: "3", Length: model.MM(200)}}},
		&model.Decide{Firsts: []model.NamedWall{{Box: "1", First: 2}, {Box: "2", First: 3}}},
		&model.Hang{Copy: 4, Hook: "door 4"},
		&model.PutBack{Copy: 1},
		&model.TakeOut{Copy: 4, To: "the wardrobe mistress"},
		&model.Revise{Entry: model.Entry{Accession: 3, Publisher: "Harrow & Pell", Number: "6124", Name: "Wrap skirt", Year: 1974}},
		&model.Add{Entries: entries(3), From: "drawer.csv"},
		&model.Remove{Copies: []model.Accession{2, 5}},
		&model.TakeMeasure{Measure: model.Measure{Box: "1", Uncut: 1, Measured: model.MM(6)}},
		&model.TakeMeasure{Measure: model.Measure{Box: "2", Uncut: 2, Cards: 1, Card: model.MM(0.5), Measured: model.MM(13)}},
		&model.DropMeasure{ID: 1},
		&model.Adopt{Thickness: model.Thickness{Uncut: model.MM(6.25), Cut: model.MM(11), Bulky: model.MM(20)}},
		&model.Expect{Batch: "attic", About: 120},
		&model.Stand{Rows: []model.NamedRow{{Box: "2", Copies: []model.Accession{6, 1}}}, Done: true, Took: &model.Took{Pulled: 1, Inserted: 2, Seconds: 90}},
		&model.SetShelf{Spec: model.ShelfSpec{Settings: model.DefaultSettings(), Boxes: []model.BoxSpec{{Name: "2", Length: model.MM(300)}}}},
	}
}

func TestEveryKindIsTried(t *testing.T) {
	var verbs []string
	for _, ch := range everyKind() {
		b, err := model.EncodeChange(ch)
		if err != nil {
			t.Fatal(err)
		}
		verb, _, _ := strings.Cut(strings.TrimPrefix(string(b), `{"do":"`), `"`)
		verbs = append(verbs, verb)
	}
	slices.Sort(verbs)
	want := []string{"add", "adopt", "decide", "expect", "hang", "measure", "put-back", "remove", "revise", "set-shelf", "stand", "take-out", "tick", "unmeasure"}
	if got := slices.Compact(verbs); !slices.Equal(got, want) {
		t.Errorf("the changes tried are %v, want %v", got, want)
	}
}
