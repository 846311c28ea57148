package sheet

import (
	"fmt"
	"image/color"
	"iter"

	"github.com/boombuler/barcode"
	"github.com/boombuler/barcode/code128"
	"rsc.io/qr"

	"example.org/tuckrow/model"
)

// Code is a bar code, its quiet zone left free around the bars.
type Code struct {
	Rect // with the quiet zone
	Bars []Rect
}

// The least widths of a module in millimetres that any reader can tell apart on
// paper from a desk printer: four dots at 600 to the inch and six (common
// practice, no source).
const (
	leastBar    = 0.17
	leastSquare = 0.30
)

// The quiet zones in modules: ISO/IEC 15417 for Code 128, ISO/IEC 18004 for QR
// (from memory; checks of the project say 4 for QR).
const (
	quietBar    = 10
	quietSquare = 4
)

// NewCode lays a code into a room, at its right and at its foot, as large as
// goes in but with modules no wider than most millimetres. False when its bars
// would be too narrow to be read. The error says what cannot be encoded.
func NewCode(kind, text string, room Rect, most float64) (Code, bool, error) {
	switch kind {
	case model.Code128:
		b, err := code128.Encode(text)
		if err != nil {
			return Code{}, false, fmt.Errorf("bar code of %q: %w", text, err)
		}
		c, ok := bars(b, room, most)
		return c, ok, nil
	case model.CodeQR:
		b, err := qr.Encode(text, qr.M)
		if err != nil {
			return Code{}, false, fmt.Errorf("bar code of %q: %w", text, err)
		}
		c, ok := squares(b, room, most)
		return c, ok, nil
	}
	return Code{}, false, nil
}

// bars draws a code of one dimension as high as its room.
func bars(b barcode.Barcode, room Rect, most float64) (Code, bool) {
	n := b.Bounds().Dx()
	module := min(most, room.W/float64(n+2*quietBar))
	w := module * float64(n+2*quietBar)
	c := Code{Rect: Rect{room.X + room.W - w, room.Y, w, room.H}}
	black := func(x int) bool { return color.GrayModel.Convert(b.At(x, 0)).(color.Gray).Y < 0x80 }
	for from, to := range runs(n, black) {
		c.Bars = append(c.Bars, Rect{c.X + module*float64(from+quietBar), c.Y, module * float64(to-from), c.H})
	}
	return c, module >= leastBar
}

// squares draws a code of two dimensions, line by line.
func squares(b *qr.Code, room Rect, most float64) (Code, bool) {
	module := min(most, min(room.W, room.H)/float64(b.Size+2*quietSquare))
	side := module * float64(b.Size+2*quietSquare)
	c := Code{Rect: Rect{room.X + room.W - side, room.Y + room.H - side, side, side}}
	for y := range b.Size {
		for from, to := range runs(b.Size, func(x int) bool { return b.Black(x, y) }) {
			c.Bars = append(c.Bars, Rect{c.X + module*float64(from+quietSquare), c.Y + module*float64(y+quietSquare), module * float64(to-from), module})
		}
	}
	return c, module >= leastSquare
}

// runs gives where what is black begins and ends, among n modules.
func runs(n int, black func(int) bool) iter.Seq2[int, int] {
	return func(yield func(from, to int) bool) {
		for from := 0; from < n; {
			to := from + 1
			for to < n && black(to) == black(from) {
				to++
			}
			if black(from) && !yield(from, to) {
				return
			}
			from = to
		}
	}
}
