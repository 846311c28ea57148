package sheet

import (
	"bytes"
	"math"
	"slices"
	"strings"
	"testing"

	"example.org/tuckrow/model"
	"example.org/tuckrow/storage/paper/lettering"
	"example.org/tuckrow/storage/paper/proof"
)

func pdfOf(t testing.TB, sheets ...*Sheet) []byte {
	t.Helper()
	var b bytes.Buffer
	n, err := WritePDF(&b, "a test", slices.Values(sheets))
	if err != nil || n != len(sheets) {
		t.Fatalf("%d of %d sheets written: %v", n, len(sheets), err)
	}
	return b.Bytes()
}

func near(a, b, by float64) bool { return math.Abs(a-b) <= by }

// scripts is a text in each script, and texts of both directions.
var scripts = []string{
	"6123 H5 Wrap dress — “AVATAR” To. Wą 24", "Σχέδιο φορέματος", "Выкройка платья №12",
	"שמלת מעטפת", "فستان سهرة طويل",
	"Զգեստ", "კაბა", "फ़्रॉक ड्रेस क्षत्रिय", "ชุดเดรสผู้หญิง", "連衣裙 ワンピース 원피스",
}

// What pdftotext gives back is what was set, in the order in which it is read,
// also where it runs from right to left; and each line is as wide as was
// reckoned.
func TestTextComesBackWhole(t *testing.T) {
	set, s := lettering.New(), New(210, 297)
	y := 10.0
	wide := map[float64]float64{}
	for _, text := range scripts {
		for _, w := range []lettering.Weight{lettering.Regular, lettering.Bold} {
			b := set.Fit(text, lettering.Style{Weight: w, Size: 14, Least: 14}, lettering.Room{W: 190, H: 20})
			s.Set(b, Rect{10, y, 190, 20}, Left)
			wide[y] = b.Width()
			y += 10
		}
	}
	pdf := pdfOf(t, s)
	got := strings.Split(proof.Text(t, pdf), "\n")
	got = slices.DeleteFunc(got, func(l string) bool { return strings.TrimSpace(l) == "" })
	for i, l := range got {
		if want := scripts[min(i/2, len(scripts)-1)]; strings.TrimSpace(l) != want {
			t.Errorf("%q came back as %q", want, l)
		}
	}
	if len(got) != 2*len(scripts) {
		t.Errorf("%d lines came back of %d", len(got), 2*len(scripts))
	}
	page := proof.Pages(t, pdf, 300)[0]
	for y, w := range wide {
		ink, ok := page.Ink(proof.Box{X: 0, Y: y - 2, W: 210, H: 10})
		if !ok || !ink.Within(proof.Box{X: 10, Y: y, W: w, H: 9}, 0.3) || ink.W < w-1.5 {
			t.Errorf("at %v mm: ink in %+v, reckoned %v wide from 10", y, ink, w)
		}
	}
}

// Where directions are mixed pdftotext has its own mind about spaces, but words
// are whole, and there for the one that reads.
func TestWordsOfBothDirectionsComeBackWhole(t *testing.T) {
	set, s := lettering.New(), New(210, 297)
	for i, text := range []string{"abc שמלה 123 def", "שמלה ארוכה 12", "Quillon فستان 6123 H5"} {
		s.Set(set.Fit(text, lettering.Style{Size: 14, Least: 14}, lettering.Room{W: 190, H: 20}), Rect{10, 10 + 10*float64(i), 190, 20}, Left)
	}
	var got []string
	for _, w := range proof.Words(t, pdfOf(t, s)) {
		got = append(got, w.Text)
	}
	// From left to right.
	if want := strings.Fields("abc 123 שמלה def 12 ארוכה שמלה Quillon 6123 فستان H5"); !slices.Equal(got, want) {
		t.Errorf("%q came back, want %q", got, want)
	}
}

// pdftotext reckons with the widths in the PDF, which are another way than the
// shaper's to the same end of the line.
func TestTheWidthsInThePDFAreThoseReckoned(t *testing.T) {
	set, s := lettering.New(), New(210, 297)
	const word = "AVATAR-To-Type-6123"
	b := set.Fit(word, lettering.Style{Size: 30, Least: 30}, lettering.Room{W: 190, H: 20})
	s.Set(b, Rect{10, 10, 190, 20}, Left)
	words := proof.Words(t, pdfOf(t, s))
	if len(words) != 1 || words[0].Text != word || !near(words[0].X, 10, 0.02) || !near(words[0].W, b.Width(), 0.05) {
		t.Errorf("%+v; reckoned %v mm from 10", words, b.Width())
	}
}

func TestLinesLieWhereTheyWerePut(t *testing.T) {
	s := New(215.9, 279.4)
	s.Frame(Rect{20.5, 30.25, 63.5, 38.1})
	s.Fold(0, 200, 215.9, 200)
	s.SetDown(lettering.New().Fit("DOWN", lettering.Style{Size: 20, Least: 20}, lettering.Room{W: 100, H: 10}), Rect{100, 100, 10, 60}, Right)
	page := proof.Pages(t, pdfOf(t, s), 300)[0]
	if w, h := float64(page.Rect.Dx())/page.PerMM, float64(page.Rect.Dy())/page.PerMM; !near(w, 215.9, 0.1) || !near(h, 279.4, 0.1) {
		t.Errorf("the page is %v x %v", w, h)
	}
	if ink, _ := page.Ink(proof.Box{W: 215, H: 90}); !near(ink.X, 20.5, 0.3) || !near(ink.Y, 30.25, 0.3) || !near(ink.X+ink.W, 84, 0.3) || !near(ink.Y+ink.H, 68.35, 0.3) {
		t.Errorf("the frame is at %+v", ink)
	}
	down, _ := page.Ink(proof.Box{X: 90, Y: 90, W: 40, H: 90})
	if !down.Within(proof.Box{X: 100, Y: 100, W: 10, H: 60}, 0.3) || down.H < 2*down.W || !near(down.Y+down.H, 160, 1) {
		t.Errorf("what runs down is at %+v", down)
	}
}

func TestCodesAreReadBack(t *testing.T) {
	s := New(210, 297)
	var want []string
	var boxes []proof.Box
	y := 10.0
	for _, text := range []string{"#1", "#412", "#98765", "#12345678"} {
		for kind, says := range map[string]string{model.Code128: "CODE-128:", model.CodeQR: "QR-Code:"} {
			x := 20.0
			if kind == model.CodeQR {
				x = 120
			}
			c, ok, err := NewCode(kind, text, Rect{x, y, 30, 14}, 0.5)
			if err != nil || !ok {
				t.Fatalf("%s of %q: %v, %v", kind, text, ok, err)
			}
			if c.X+c.W > x+30+1e-9 || c.Y+c.H > y+14+1e-9 {
				t.Errorf("%s of %q is at %+v, beyond its room", kind, text, c.Rect)
			}
			s.Codes = append(s.Codes, c)
			want, boxes = append(want, says+text), append(boxes, proof.Box{X: x, Y: y, W: 30, H: 14})
		}
		y += 40
	}
	if got := proof.Codes(t, proof.PageAt(t, pdfOf(t, s), 0, 300), boxes); !slices.Equal(got, want) {
		t.Errorf("read %q, want %q", got, want)
	}
}

// The quiet zones: 10 modules beside Code 128, 4 round QR; and QR version 1 is 21
// modules wide (ISO/IEC 18004).
func TestCodesKeepTheirQuietZones(t *testing.T) {
	c, _, _ := NewCode(model.CodeQR, "#412", Rect{0, 0, 29, 29}, 1)
	if c.W != 29 || c.Bars[0].X != 4 || c.Bars[0].Y != 4 || c.Bars[0].W != 7 || c.Bars[0].H != 1 {
		t.Errorf("QR is %v mm wide, its first bar at %+v", c.W, c.Bars[0])
	}
	c, _, _ = NewCode(model.Code128, "#412", Rect{0, 0, 100, 10}, 0.25)
	last := c.Bars[len(c.Bars)-1]
	if left, right := c.Bars[0].X-c.X, c.X+c.W-last.X-last.W; !near(left, 2.5, 1e-9) || !near(right, 2.5, 1e-9) {
		t.Errorf("%v mm are free before Code 128 and %v behind", left, right)
	}
	if _, ok, _ := NewCode(model.Code128, "#12345678", Rect{0, 0, 12, 10}, 0.25); ok {
		t.Error("a code whose bars are too narrow to be read is given as one that can be")
	}
	if _, _, err := NewCode(model.Code128, "שמלה", Rect{0, 0, 90, 10}, 0.25); err == nil {
		t.Error("what Code 128 cannot encode is encoded")
	}
}

func TestTheSameSheetsGiveTheSameBytes(t *testing.T) {
	make := func() []byte {
		set, s := lettering.New(), New(210, 297)
		for i, text := range scripts {
			s.Set(set.Fit(text, lettering.Style{Size: 14, Least: 14}, lettering.Room{W: 190, H: 20}), Rect{10, 10 + 10*float64(i), 190, 20}, Left)
		}
		return pdfOf(t, s, s)
	}
	if a := make(); !bytes.Equal(a, make()) {
		t.Error("the same sheets gave other bytes")
	}
	if _, err := WritePDF(&bytes.Buffer{}, "none", slices.Values([]*Sheet(nil))); err == nil {
		t.Error("no sheets gave a PDF")
	}
}
