package intake

import "time"

// quick is how close runes follow each other that a scanner sends, 1 to 30 ms
// apart (from memory); a hand takes some 100 ms. leastRush is how many of them
// are no accident of two fingers. Our choices, no source.
const (
	quick     = 40 * time.Millisecond
	leastRush = 8
)

// rush is text that came in one go.
type rush struct {
	last   time.Time
	runes  int
	behind string // what stood in the field before it
}

// typed notes a rune typed into a field.
func (r *rush) typed(now time.Time, before string) {
	if now.Sub(r.last) > quick {
		*r = rush{behind: before}
	}
	r.last = now
	r.runes++
}

// held tells whether Enter is that of a scanner behind what a hand has typed: it
// must not enter what the hand has not done with. It tells so once.
func (r *rush) held(now time.Time) bool {
	is := r.behind != "" && r.runes >= leastRush && now.Sub(r.last) <= quick
	*r = rush{}
	return is
}
