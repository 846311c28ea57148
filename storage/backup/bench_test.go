package backup

import (
	"context"
	"fmt"
	"path/filepath"
	"runtime"
	"testing"

	"example.org/tuckrow/ordering/sample"
)

// BenchmarkBackup writes a backup, syncs it and reads it back; BenchmarkRestore
// reads one, makes a store of it, reads that back and puts it in place.
func BenchmarkBackup(b *testing.B) {
	each(b, func(b *testing.B, dir string) {
		s := opened(b, filepath.Join(dir, "store"))
		for b.Loop() {
			if _, err := write(ctx, filepath.Join(dir, "again.jsonl"), s.Collection(), noon("2026-11-25"), NoProgress); err != nil {
				b.Fatal(err)
			}
		}
		shut(b, s)
	})
}

func BenchmarkRestore(b *testing.B) {
	each(b, func(b *testing.B, dir string) {
		n := 0
		for b.Loop() {
			n++
			restored(b, filepath.Join(dir, fmt.Sprint("new", n)), filepath.Join(dir, "store.jsonl"))
		}
	})
}

// BenchmarkLook is what a daily backup costs that is not due.
func BenchmarkLook(b *testing.B) {
	each(b, func(b *testing.B, dir string) {
		s := opened(b, filepath.Join(dir, "store"))
		if err := Daily(ctx, s, noon("2026-11-25"), OnceADay, NoProgress); err != nil {
			b.Fatal(err)
		}
		for b.Loop() {
			if err := Daily(ctx, s, noon("2026-11-25"), OnceADay, NoProgress); err != nil {
				b.Fatal(err)
			}
		}
		shut(b, s)
	})
}

// BenchmarkCommit enters one copy into 60,000, and does the same while backups
// are made all the time.
func BenchmarkCommit(b *testing.B) {
	s := opened(b, b.TempDir())
	if _, err := s.Fill(ctx, sample.Cupboard(60_000), "all"); err != nil {
		b.Fatal(err)
	}
	enter := func(b *testing.B) {
		for b.Loop() {
			do(b, s, adding(1))
		}
	}
	b.Run("alone", enter)
	b.Run("beside a backup", func(b *testing.B) {
		told, end := context.WithCancel(ctx)
		ended, file := make(chan struct{}), filepath.Join(b.TempDir(), "cupboard.jsonl")
		go func() {
			defer close(ended)
			for told.Err() == nil {
				_, _ = write(told, file, s.Collection(), noon("2026-11-25"), NoProgress) // broken off in the end
			}
		}()
		enter(b)
		end()
		<-ended
	})
	shut(b, s)
}

func each(b *testing.B, do func(b *testing.B, dir string)) {
	for _, n := range []int{500, 5000, 60_000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			dir := b.TempDir()
			s := opened(b, filepath.Join(dir, "store"))
			if _, err := s.Fill(ctx, sample.Cupboard(n), "all"); err != nil {
				b.Fatal(err)
			}
			backup(b, s, filepath.Join(dir, "store.jsonl"))
			shut(b, s)
			var before, after runtime.MemStats
			runtime.GC()
			runtime.ReadMemStats(&before)
			do(b, dir)
			runtime.ReadMemStats(&after)
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(n), "ns/copy")
			b.ReportMetric(float64(after.TotalAlloc-before.TotalAlloc)/float64(b.N)/1e6, "MB-allocated/op")
		})
	}
}
