package proof

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"os"
	"testing"
)

// Most a picture that is kept may weigh in bytes, and how far it may differ: by
// more than half of black in so many dots to a thousand that are not white.
// Versions of pdftoppm smooth edges differently, which comes to less; a text or
// a line that moved by a dot, or one that is another, comes to more.
const (
	mostBytes = 30_000
	mostOff   = 5
	off       = 0x80
)

// Golden compares a page with a picture that is kept, or, to update, keeps it.
// On failure the present page lies beside it, as NAME.got.png.
func Golden(t testing.TB, name string, p Page, update bool) {
	t.Helper()
	var now bytes.Buffer
	if err := (&png.Encoder{CompressionLevel: png.BestCompression}).Encode(&now, few(p.Gray)); err != nil {
		t.Fatal(err)
	}
	if update {
		if now.Len() > mostBytes {
			t.Fatalf("%s has %d bytes; %d are the most", name, now.Len(), mostBytes)
		}
		if err := os.WriteFile(name, now.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want := readPNG(t, name)
	if want.Rect != p.Rect {
		t.Fatalf("%s is %v, the page is %v now", name, want.Rect, p.Rect)
	}
	n, ink, got := 0, 0, few(p.Gray)
	for y := range want.Rect.Dy() {
		for x := range want.Rect.Dx() {
			a, b := int(want.GrayAt(x, y).Y), int(grey(got.At(x, y)))
			if max(a-b, b-a) > off {
				n++
			}
			if a < 0xff {
				ink++
			}
		}
	}
	if n*1000 > ink*mostOff {
		_ = os.WriteFile(name+".got.png", now.Bytes(), 0o600)
		t.Errorf("%s: %d dots differ of %d that are not white; look at %s.got.png and, if it is right, run with -update", name, n, ink, name)
	}
}

// few keeps sixteen greys, which a small picture needs no more of.
func few(g *image.Gray) *image.Paletted {
	out := image.NewPaletted(g.Rect, greys)
	for y := range g.Rect.Dy() {
		for x := range g.Rect.Dx() {
			out.SetColorIndex(x, y, g.GrayAt(x, y).Y>>4)
		}
	}
	return out
}

// greys are from black to white in sixteen steps.
var greys = func() (p color.Palette) {
	for i := range 16 {
		p = append(p, color.Gray{Y: uint8(i * 0x11)})
	}
	return p
}()

func grey(c color.Color) uint8 { return c.(color.Gray).Y }
