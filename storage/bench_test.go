package storage

import (
	"bytes"
	"context"
	"fmt"
	"maps"
	"slices"
	"syscall"
	"testing"
	"time"

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
	b.Run("side by side", func(b *testing.B) {
		var ours, theirs []spent
		for range b.N {
			s := openAt(b, b.TempDir())
			ours = append(ours, spentBy(func() { s.do(plan(b)) }))
			s.shut()
			theirs = append(theirs, alone(b, kept))
		}
		o, t := least(ours), least(theirs)
		b.ReportMetric(float64(o.clock)/float64(t.clock), "times-by-the-clock")
		b.ReportMetric(float64(o.processor)/float64(t.processor), "times-in-processor-time")
		b.ReportMetric(o.clock.Seconds()*1000, "ms")
		b.ReportMetric(o.processor.Seconds()*1000, "cpu-ms")
	})
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
			if _, err := s.written(next, delta, entry{Title: "imported"}); err != nil {
				b.Fatal(err)
			}
		}
	})
}

// spent is what something took, by the clock and in processor time, that of all
// goroutines.
type spent struct{ clock, processor time.Duration }

func spentBy(do func()) spent {
	began, from := time.Now(), processor()
	do()
	return spent{time.Since(began), processor() - from}
}

// processor is the time that the processors have worked for this program.
func processor() time.Duration {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		panic(err) // it only fails when asked for what there is not
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

// least gives the least of each: other work on the machine only adds to it.
func least(all []spent) spent {
	m := all[0]
	for _, x := range all {
		m.clock, m.processor = min(m.clock, x.clock), min(m.processor, x.processor)
	}
	return m
}

// writeAlone writes to Badger with our options, in one batch.
func writeAlone(b *testing.B, all []write) {
	var took time.Duration
	size := 0
	for range b.N {
		took += alone(b, all).clock
	}
	for _, w := range all {
		size += len(w.Key) + len(w.Value)
	}
	b.ReportMetric(float64(took)/float64(b.N), "ns/op")
	b.ReportMetric(float64(size)/1e6, "MB")
}

// alone does it once.
func alone(b *testing.B, all []write) spent {
	db, err := badger.Open((&Store{dir: b.TempDir()}).badgerOptions(false))
	if err != nil {
		b.Fatal(err)
	}
	took := spentBy(func() {
		batch := db.NewWriteBatch()
		for _, w := range all {
			if err := batch.Set(w.Key, w.Value); err != nil {
				b.Fatal(err)
			}
		}
		if err := batch.Flush(); err != nil {
			b.Fatal(err)
		}
	})
	if err := db.Close(); err != nil {
		b.Fatal(err)
	}
	return took
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
