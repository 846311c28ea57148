package words

import "testing"

func TestCount(t *testing.T) {
	for n, want := range map[int]string{0: "0 boxes", 1: "1 box", 2: "2 boxes", 1000: "1000 boxes"} {
		if got := Count(n, "box", "boxes"); got != want {
			t.Errorf("%d: %q, want %q", n, got, want)
		}
	}
}
