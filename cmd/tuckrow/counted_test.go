package main

import (
	"testing"

	"example.org/tuckrow/ordering"
)

// One of a thing is one, and so is what it does.
func TestOneIsNotSeveral(t *testing.T) {
	for _, x := range []struct{ got, want string }{
		{copies(0), "0 copies"}, {copies(1), "1 copy"}, {copies(2), "2 copies"}, {envelopes(1), "1 envelope"}, {envelopes(12), "12 envelopes"},
		{changing(ordering.Difference{Moved: 1, Labels: 1}), "1 envelope changes box, 1 label changes"},
		{changing(ordering.Difference{Moved: 3}), "3 envelopes change box, 0 labels change"},
	} {
		if x.got != x.want {
			t.Errorf("%q, want %q", x.got, x.want)
		}
	}
}
