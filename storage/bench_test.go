package storage

import (
	"bytes"
	"context"
	"fmt"
	"maps"
	"slices"
	"testing"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering/sample"
	"example.org/tuckrow/storage/exchange"
	"github.com/dgraph-io/badger/v4"
)

// BenchmarkImport takes a spreadsheet into an empty store on disk: the whole
// way, its parts, and the same bytes written to Badger by itself.
func BenchmarkImport(b *testing.B) {
	const n = 60_000
	var file bytes.Buffer
	if err := exchange.WriteCSV(&file, sample.Cupboard(n)); err != nil {
		b.Fatal(err)
	}
	plan := func(b *testing.B) *model.Add {
		im, err := exchange.ReadCSV(bytes.NewReader(file.Bytes()), nil)
		if err != nil {
			b.Fatal(err)
		}
		return im.Plan(model.NewCollection(), "", "file.csv").Change
	}
	var kept []write
	b.Run("tuckrow", func(b *testing.B) {
		for range b.N {
			b.StopTimer()
			s := openAt(b, b.TempDir())
			b.StartTimer()
			s.do(plan(b))
			b.StopTimer()
			kept = inOrder(s.keys())
			s.shut()
			b.StartTimer()
		}
	})
	b.Run("badger alone", func(b *testing.B) { writeAlone(b, kept) })
	add := plan(b)
	b.Run("reading and planning", func(b *testing.B) {
		for range b.N {
			plan(b)
		}
	})
	b.Run("applying", func(b *testing.B) {
		for range b.N {
			if _, _, err := model.NewCollection().Apply(add, day); err != nil {
				b.Fatal(err)
			}
		}
	})
	next, delta, err := model.NewCollection().Apply(add, day)
	if err != nil {
		b.Fatal(err)
	}
	b.Run("encoding", func(b *testing.B) {
		s := openMemory(b)
		for range b.N {
			if _, err := s.writes(next, delta, entry{Title: "imported"}); err != nil {
				b.Fatal(err)
			}
		}
	})
}

// writeAlone writes to Badger with our options, in one batch.
func writeAlone(b *testing.B, all []write) {
	size := 0
	for range b.N {
		b.StopTimer()
		db, err := badger.Open((&Store{dir: b.TempDir()}).badgerOptions(false))
		if err != nil {
			b.Fatal(err)
		}
		b.StartTimer()
		batch := db.NewWriteBatch()
		size = 0
		for _, w := range all {
			size += len(w.Key) + len(w.Value)
			if err := batch.Set(w.Key, w.Value); err != nil {
				b.Fatal(err)
			}
		}
		if err := batch.Flush(); err != nil {
			b.Fatal(err)
		}
		b.StopTimer()
		if err := db.Close(); err != nil {
			b.Fatal(err)
		}
		b.StartTimer()
	}
	b.ReportMetric(float64(size)/1e6, "MB")
}

func inOrder(keys map[string]string) (all []write) {
	for _, k := range slices.Sorted(maps.Keys(keys)) {
		all = append(all, write{[]byte(k), []byte(keys[k])})
	}
	return all
}

// BenchmarkOpen opens a store and reads all of it.
func BenchmarkOpen(b *testing.B) {
	for _, n := range []int{500, 5000, 60_000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			s := openAt(b, b.TempDir())
			if _, err := s.Fill(context.Background(), sample.Cupboard(n), "all"); err != nil {
				b.Fatal(err)
			}
			for b.Loop() {
				b.StopTimer()
				s.shut()
				b.StartTimer()
				s.open()
			}
			if got := s.Collection().Copies().Len(); got != n {
				b.Fatalf("there are %d copies, want %d", got, n)
			}
		})
	}
}

// BenchmarkIntake enters one copy into 60,000: on disk, in memory, and beside
// it a synced commit of Badger's own of as many keys and bytes.
func BenchmarkIntake(b *testing.B) {
	whole := sample.Cupboard(60_000)
	one := func(i int) model.Change {
		en := entryOf("Quillon", fmt.Sprint("K", i), "Cape")
		en.Batch, en.Category = "parcel", "Dresses"
		return &model.Add{Entries: []model.Entry{en}}
	}
	enter := func(b *testing.B, s *cupboard) {
		if _, err := s.Fill(context.Background(), whole, "all"); err != nil {
			b.Fatal(err)
		}
		i := 0
		for b.Loop() {
			i++
			s.do(one(i))
		}
	}
	b.Run("disk", func(b *testing.B) { enter(b, openAt(b, b.TempDir())) })
	b.Run("memory", func(b *testing.B) { enter(b, openMemory(b)) })
	b.Run("badger alone", func(b *testing.B) {
		db, err := badger.Open((&Store{dir: b.TempDir()}).badgerOptions(false))
		if err != nil {
			b.Fatal(err)
		}
		i := 0
		for b.Loop() {
			i++
			err := db.Update(func(txn *badger.Txn) error {
				for k, size := range []int{60, 50, 40, 40, 60} { // pattern, copy, journal, before, meta
					if err := txn.Set(fmt.Appendf(nil, "%d %d", k, i), make([]byte, size)); err != nil {
						return err
					}
				}
				return nil
			})
			if err != nil {
				b.Fatal(err)
			}
		}
		if err := db.Close(); err != nil {
			b.Fatal(err)
		}
	})
	b.Run("in a box", func(b *testing.B) { // which moves a row, so more is worked out anew
		s := openMemory(b)
		if _, err := s.Fill(context.Background(), whole, "all"); err != nil {
			b.Fatal(err)
		}
		add := one(0).(*model.Add)
		add.Entries[0].Box, add.Entries[0].Position = "500", 3
		for b.Loop() {
			if _, err := s.Commit(context.Background(), add); err != nil {
				b.Fatal(err)
			}
		}
	})
}
