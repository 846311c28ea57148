package paper

import (
	"fmt"
	"io"
	"runtime/metrics"
	"testing"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/ordering/sample"
)

// Labels with codes as PDF, and how much memory the program had taken from the
// system at the end, in megabytes. Ten times the labels should take ten times as
// long.
func BenchmarkEnvelopes(b *testing.B) {
	for _, code := range []string{model.Code128, model.CodeQR, model.NoCode} {
		for _, n := range []int{500, 5_000} {
			b.Run(fmt.Sprintf("%s/%d", code, n), func(b *testing.B) {
				src := Source{Layout: ordering.Arrange(sample.Cupboard(n)), Paper: a4, Date: today}
				copies := src.row(n)
				b.ReportAllocs()
				for b.Loop() {
					w, err := Envelopes(src, copies, EnvelopeOptions{Labels: model.LabelSheets()[0], Code: code})
					if err != nil {
						b.Fatal(err)
					}
					if _, err := w.PDF(io.Discard); err != nil {
						b.Fatal(err)
					}
				}
				taken := []metrics.Sample{{Name: "/memory/classes/total:bytes"}}
				metrics.Read(taken)
				b.ReportMetric(float64(taken[0].Value.Uint64())/1e6, "MB-taken")
			})
		}
	}
}
