package desk

import (
	"fmt"
	"slices"

	"example.org/tuckrow/model"
)

// Scanned is what a box is read by where the code of a sleeve is scanned: the
// accession number of the copy; of several one that is recorded in the box, was not
// read yet and is not out. A code of nothing that is listed stays as it is: it may
// stand for a number.
func (d *Desk) Scanned(code string, box model.BoxID, read func(model.Accession) bool) string {
	g, c := d.Known.Code(code), d.Collection()
	if g.Pattern == 0 {
		return code
	}
	copies := slices.Clone(d.Index.Copies(g.Pattern))
	for _, a := range c.Row(box) { // two patterns can bear one code
		if code := c.Pattern(g.Pattern).Barcode; code != "" && c.PatternOf(a).Barcode == code {
			copies = append(copies, a)
		}
	}
	best, bestScore := model.Accession(0), -1
	for _, a := range copies {
		score := 0
		if spot, stands := c.Standing(a); stands && spot.Box == box {
			score += 4
		}
		if !read(a) {
			score += 2
		}
		if c.Copy(a).Out == nil {
			score++
		}
		if score > bestScore {
			best, bestScore = a, score
		}
	}
	if best == 0 {
		return code
	}
	return fmt.Sprintf("#%d", best)
}
