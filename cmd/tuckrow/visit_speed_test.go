//go:build unix

package main

import (
	"bytes"
	"context"
	"slices"
	"strings"
	"testing"
	"time"
)

// BenchmarkFindVisit runs find through the interface of an open store of 60,000
// copies: asked from a process that runs already, and as a whole process beside
// one that only prints the help of find. Medians are given.
func BenchmarkFindVisit(b *testing.B) {
	dir := largeStore(b)
	startInterface(b, dir)
	bin := built(b)
	for name, words := range map[string][]string{"number": {"6123"}, "two words": {"wrap", "dress"}} {
		find := append([]string{"--store", dir, "find"}, words...)
		b.Run(name, func(b *testing.B) {
			var asked, whole, idle []time.Duration
			for b.Loop() {
				var out bytes.Buffer
				begun := time.Now()
				if err := run(context.Background(), find, streams{strings.NewReader(""), &out, &out}); err != nil && err != answer(exitDone) {
					b.Fatal(err)
				}
				asked = append(asked, time.Since(begun))
				wall, _ := timed(b, append([]string{bin}, find...))
				whole = append(whole, wall)
				wall, _ = timed(b, []string{bin, "find", "--help"})
				idle = append(idle, wall)
			}
			for unit, times := range map[string][]time.Duration{"asked-ms": asked, "process-ms": whole, "help-ms": idle} {
				slices.Sort(times)
				b.ReportMetric(times[len(times)/2].Seconds()*1000, unit)
			}
		})
	}
}
