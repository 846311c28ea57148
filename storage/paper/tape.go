package paper

import (
	"fmt"
	"io"
	"math"
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/storage/paper/lettering"
)

// The tapes that labels are made for, in millimetres, and how much of the height
// letters can take; a narrow strip at each edge stays white, and before and
// behind the text (common practice, no source).
const (
	narrowestTape, widestTape = 3.5, 50.0
	tapeShare                 = 0.75
	tapeEnds                  = 4.0
)

// TapeHeight is how high the tape of a usual narrow tape printer is, in mm
// (common practice, no source).
const TapeHeight = 12.0

// TapeOptions say what tape labels are printed on.
type TapeOptions struct {
	Height float64 // of the tape
	Most   float64 // how long a label may be; 0: as long as it gets
}

// leastTape is the smallest letters on a tape, in points.
const leastTape = 7

// Tape writes the labels of the work as plain text for a narrow tape printer, one
// a line: how long the tape gets, a tabulator, the text. The length is reckoned
// in the letters of this program, bold, as high as the tape lets them be; those
// of the printer may run a little wider. What would be too long is set smaller,
// then shortened, as on paper.
func (w *Work) Tape(out io.Writer, o TapeOptions) (Report, error) {
	var r Report
	if w.labels == nil {
		return r, model.Inputf("%s goes on no tape; print it as pdf or text", strings.ToLower(w.Title))
	}
	if !(o.Height >= narrowestTape && o.Height <= widestTape) {
		return r, model.Inputf("a tape of %v mm is not known; give %v to %v mm", o.Height, narrowestTape, widestTape)
	}
	if o.Most != 0 && !(o.Most > 2*tapeEnds && o.Most <= 10_000) {
		return r, model.Inputf("a label on tape cannot be %v mm at the most; give more than %v", o.Most, 2*tapeEnds)
	}
	p := &press{set: lettering.New(), report: &r}
	st := lettering.Style{Weight: lettering.Bold, Size: tapeShare * o.Height / 1.2 / lettering.Point}
	st.Least = min(st.Size, leastTape)
	room := lettering.Room{W: math.Inf(1), H: o.Height, Lines: 1}
	if o.Most > 0 {
		room.W = o.Most - 2*tapeEnds
	}
	var b strings.Builder
	for _, text := range w.labels() {
		block := p.fit("tape", text, st, room.W, room.H, 1)
		says := ""
		for _, l := range block.Lines {
			says = l.Text
		}
		fmt.Fprintf(&b, "%.0f mm\t%s\n", math.Ceil(block.Width()+2*tapeEnds), says)
	}
	r.settle(p)
	_, err := io.WriteString(out, b.String())
	return r, err
}
