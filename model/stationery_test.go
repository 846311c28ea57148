package model

import (
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// ISO 216: each size is the one before with its longer side halved and rounded
// down. ISO 269: so are C5 and C6.
func TestPaperSizesAreHalvesOfOneAnother(t *testing.T) {
	half := func(p Paper) (w, h Length) { return p.Height / 2 / Millimetre * Millimetre, p.Width }
	for _, x := range []struct {
		find          func(string) (Paper, error)
		large, small  string
		width, height float64
	}{
		{PaperNamed, "A3", "A4", 210, 297},
		{EnvelopeNamed, "C4", "C5", 162, 229},
		{EnvelopeNamed, "C5", "C6", 114, 162},
	} {
		large, err := x.find(x.large)
		if err != nil {
			t.Fatal(err)
		}
		small, err := x.find(x.small)
		if err != nil {
			t.Fatal(err)
		}
		w, h := half(large)
		if small.Width != w || small.Height != h || small.Width.MM() != x.width || small.Height.MM() != x.height {
			t.Errorf("%s is %s x %s; half of %s is %s x %s, the table says %v x %v", small.Name, small.Width, small.Height, large.Name, w, h, x.width, x.height)
		}
	}
}

// 1 in = 25.4 mm exactly (NBS, from 1 July 1959). The neighbour of C5 that takes
// all that C5 takes is 6.5x9.5 in, not 6x9 in.
func TestEnvelopesInInches(t *testing.T) {
	c5, _ := EnvelopeNamed("c5")
	for _, x := range []struct {
		name          string
		width, height float64
		takesC5       bool
	}{{"6x9", 152.4, 228.6, false}, {"6.5x9.5 in", 165.1, 241.3, true}} {
		e, err := EnvelopeNamed(x.name)
		if err != nil {
			t.Fatal(err)
		}
		if takes := e.Width >= c5.Width && e.Height >= c5.Height; e.Width.MM() != x.width || e.Height.MM() != x.height || takes != x.takesC5 {
			t.Errorf("%s is %s x %s and takes C5: %v", e.Name, e.Width, e.Height, takes)
		}
	}
	if _, err := EnvelopeNamed("B9"); err == nil || !strings.Contains(err.Error(), `"B9" is not known; use one of: C5, C6, C4, 6x9 in, 6.5x9.5 in`) {
		t.Errorf("an envelope that is not known: %v", err)
	}
}

// The grid on Letter is given in inches (common to many makers, no standard):
// label 2.625 x 1, first at 0.15625 / 0.5, pitch 2.78125 x 1.
func TestTheGridOnLetterIsWhereInchesSay(t *testing.T) {
	s, err := new(Shelf).LabelSheetNamed("letter 3x10")
	if err != nil {
		t.Fatal(err)
	}
	for i := range s.Count() {
		left, top := s.Place(i)
		x, y := 0.15625+float64(i%3)*2.78125, 0.5+float64(i/3)
		if dx, dy := left.MM()-x*25.4, top.MM()-y*25.4; max(dx, -dx, dy, -dy) > 0.02 {
			t.Errorf("label %d begins at %s, %s; that is %.3f, %.3f mm off", i, left, top, dx, dy)
		}
	}
}

func TestGenericLabelSheetsCanBeCut(t *testing.T) {
	for _, s := range LabelSheets() {
		if err := s.check(); err != nil {
			t.Error(err)
		}
		mustLieApart(t, s)
	}
}

// Whatever sheet is accepted, its labels lie on the paper and none on another.
func TestLabelsThatAreAcceptedLieOnTheSheetApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		mm := func(most float64, what string) Length { return Length(rapid.IntRange(0, int(MM(most))).Draw(t, what)) }
		s := LabelSheet{Name: "own", Paper: rapid.SampledFrom([]string{"A4", "Letter"}).Draw(t, "paper"),
			Columns: rapid.IntRange(1, 4).Draw(t, "columns"), Rows: rapid.IntRange(1, 8).Draw(t, "rows"),
			Width: mm(70, "width"), Height: mm(40, "height"), Left: mm(20, "left"), Top: mm(20, "top")}
		s.PitchX, s.PitchY = s.Width+mm(8, "gap")-MM(1), s.Height+mm(8, "gap")-MM(1)
		if s.check() != nil {
			t.Skip("refused")
		}
		mustLieApart(t, s)
	})
}

func mustLieApart(t interface {
	Errorf(string, ...any)
}, s LabelSheet) {
	paper, _ := PaperNamed(s.Paper)
	for i := range s.Count() {
		left, top := s.Place(i)
		if left < 0 || top < 0 || left+s.Width > paper.Width || top+s.Height > paper.Height {
			t.Errorf("%s: label %d at %s, %s leaves the sheet", s.Name, i, left, top)
		}
		for j := range i {
			l, u := s.Place(j)
			if left < l+s.Width && l < left+s.Width && top < u+s.Height && u < top+s.Height {
				t.Errorf("%s: labels %d and %d overlap", s.Name, j, i)
			}
		}
	}
}

func TestALabelSheetThatCannotBeIsRefused(t *testing.T) {
	good := LabelSheet{Name: "own", Paper: "A4", Columns: 2, Rows: 5, Width: MM(90), Height: MM(50), Left: MM(10), Top: MM(20), PitchX: MM(95), PitchY: MM(50)}
	for _, x := range []struct {
		change func(*LabelSheet)
		says   string
	}{
		{func(*LabelSheet) {}, ""},
		{func(s *LabelSheet) { s.Paper = "A9" }, `paper "A9" is not known`},
		{func(s *LabelSheet) { s.Columns = 0 }, "give 1 to 1000 labels"},
		{func(s *LabelSheet) { s.Columns, s.Rows = 1<<40, 1<<40 }, "give 1 to 1000 labels"},
		{func(s *LabelSheet) { s.Height = 0 }, "needs a width and a height"},
		{func(s *LabelSheet) { s.PitchX = MM(89) }, "labels overlap"},
		{func(s *LabelSheet) { s.Rows = 6 }, "320 mm down, beyond A4 of 210 mm by 297 mm"},
	} {
		s := good
		x.change(&s)
		_, _, err := NewCollection().Apply(&SetShelf{Spec: ShelfSpec{Settings: DefaultSettings(), Labels: []LabelSheet{s}}}, "")
		if (err == nil) != (x.says == "") || err != nil && !strings.Contains(err.Error(), x.says) {
			t.Errorf("%+v: %v, want %q", s, err, x.says)
		}
	}
}
