package main

import (
	"context"
	"os/exec"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"example.org/tuckrow/ordering/sample"
	"example.org/tuckrow/storage"
)

// BenchmarkFindProcess runs find as a whole process on a closed store of 60,000
// copies, in turn with testdata/scan, which does no more than open Badger and
// read the same records. Compared are the quickest runs of each, since whatever
// else the machine does can only make one slower, and the time of the
// processors.
func BenchmarkFindProcess(b *testing.B) {
	dir := largeStore(b)
	bin := b.TempDir()
	for _, pkg := range []string{".", "./testdata/scan"} {
		if out, err := exec.Command("go", "build", "-o", bin+"/", pkg).CombinedOutput(); err != nil {
			b.Fatalf("building %s: %v: %s", pkg, err, out)
		}
	}
	scan := []string{filepath.Join(bin, "scan"), storage.BadgerFolder(dir)}
	for name, words := range map[string][]string{"number": {"6123"}, "two words": {"wrap", "dress"}} {
		find := append([]string{filepath.Join(bin, "tuckrow"), "--store", dir, "find"}, words...)
		b.Run(name, func(b *testing.B) {
			var walls, cpus [2][]time.Duration
			for b.Loop() {
				for i, args := range [][]string{scan, find} {
					wall, cpu := timed(b, args)
					walls[i], cpus[i] = append(walls[i], wall), append(cpus[i], cpu)
				}
			}
			ms := func(d time.Duration) float64 { return d.Seconds() * 1000 }
			b.ReportMetric(ms(slices.Min(walls[0])), "scan-ms")
			b.ReportMetric(ms(slices.Min(walls[1])), "find-ms")
			b.ReportMetric(ms(slices.Min(walls[1]))/ms(slices.Min(walls[0])), "ratio")
			b.ReportMetric(ms(slices.Min(cpus[1]))/ms(slices.Min(cpus[0])), "cpu-ratio")
		})
	}
}

// largeStore makes a closed store of 60,000 copies.
func largeStore(b *testing.B) string {
	b.Helper()
	dir := filepath.Join(b.TempDir(), "store")
	s, err := storage.Open(dir, storage.Options{})
	if err != nil {
		b.Fatal(err)
	}
	if _, err := s.Fill(context.Background(), sample.Cupboard(60_000), "all"); err != nil {
		b.Fatal(err)
	}
	if err := s.Close(); err != nil {
		b.Fatal(err)
	}
	return dir
}

func timed(b *testing.B, args []string) (wall, cpu time.Duration) {
	b.Helper()
	cmd := exec.Command(args[0], args[1:]...)
	begun := time.Now()
	if out, err := cmd.CombinedOutput(); err != nil {
		b.Fatalf("%v: %v: %s", args, err, out)
	}
	return time.Since(begun), cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime()
}
