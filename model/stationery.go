package model

import (
	"cmp"
	"fmt"
	"math"
	"strings"
)

// Paper is a sheet or an envelope by name, upright: never wider than high.
type Paper struct {
	Name          string
	Width, Height Length
}

// Papers are the sheets that a plan can be printed on: A4 and A3 as ISO 216
// lists them, Letter in inches as ANSI/ASME Y14.1 (from memory).
func Papers() []Paper {
	return []Paper{
		{"A4", 210 * Millimetre, 297 * Millimetre},
		{"Letter", inches(8.5), inches(11)},
		{"A3", 297 * Millimetre, 420 * Millimetre},
	}
}

// Envelopes are the envelopes that can stand in a box: ISO 269, and the two
// sizes in inches that are nearest to C5. Of those 6.5x9.5 in takes all that
// C5 takes, and 6x9 in does not.
func Envelopes() []Paper {
	return []Paper{
		{"C5", 162 * Millimetre, 229 * Millimetre},
		{"C6", 114 * Millimetre, 162 * Millimetre},
		{"C4", 229 * Millimetre, 324 * Millimetre},
		{"6x9 in", inches(6), inches(9)},
		{"6.5x9.5 in", inches(6.5), inches(9.5)},
	}
}

func inches(n float64) Length { return Length(math.Round(n * float64(Inch))) }

// PaperNamed finds a sheet of paper.
func PaperNamed(name string) (Paper, error) { return paperNamed("paper", name, Papers()) }

// EnvelopeNamed finds an envelope; " in" may be left out.
func EnvelopeNamed(name string) (Paper, error) { return paperNamed("envelope", name, Envelopes()) }

func paperNamed(field, name string, all []Paper) (Paper, error) {
	plain := func(s string) string {
		return strings.TrimSuffix(strings.ReplaceAll(strings.ToLower(s), " ", ""), "in")
	}
	names := make([]string, len(all))
	for i, p := range all {
		if plain(p.Name) == plain(name) {
			return p, nil
		}
		names[i] = p.Name
	}
	return Paper{}, &FieldError{Field: field, Value: name, Problem: "is not known", Hint: "use one of: " + strings.Join(names, ", ")}
}

// LabelSheet is a sheet of labels in a grid, named by it. Left and Top are
// where the first label begins; from one to the next is the pitch.
type LabelSheet struct {
	Name    string `json:"name" cbor:"1,keyasint"`
	Paper   string `json:"paper" cbor:"2,keyasint"`
	Columns int    `json:"columns" cbor:"3,keyasint"`
	Rows    int    `json:"rows" cbor:"4,keyasint"`
	Width   Length `json:"width_mm" cbor:"5,keyasint"`
	Height  Length `json:"height_mm" cbor:"6,keyasint"`
	Left    Length `json:"left_mm" cbor:"7,keyasint"`
	Top     Length `json:"top_mm" cbor:"8,keyasint"`
	PitchX  Length `json:"pitch_x_mm" cbor:"9,keyasint"`
	PitchY  Length `json:"pitch_y_mm" cbor:"10,keyasint"`
}

// columnGap is between the columns of the generic A4 sheets, which have no gap
// between rows and lie in the middle of the sheet (from memory).
const columnGap = Length(254)

// LabelSheets are the generic sheets in the trade. The measures of their
// labels, and where those on Letter lie, are common to many makers (no
// standard).
func LabelSheets() []LabelSheet {
	return []LabelSheet{
		centred("A4 3x7", 3, 7, MM(63.5), MM(38.1)),
		centred("A4 2x7", 2, 7, MM(99.1), MM(38.1)),
		centred("A4 2x4", 2, 4, MM(99.1), MM(67.7)),
		{"Letter 3x10", "Letter", 3, 10, inches(2.625), inches(1), inches(0.15625), inches(0.5), inches(2.78125), inches(1)},
	}
}

func centred(name string, columns, rows int, w, h Length) LabelSheet {
	a4 := Papers()[0]
	s := LabelSheet{Name: name, Paper: a4.Name, Columns: columns, Rows: rows, Width: w, Height: h, PitchX: w + columnGap, PitchY: h}
	s.Left = (a4.Width - Length(columns-1)*s.PitchX - w) / 2
	s.Top = (a4.Height - Length(rows-1)*s.PitchY - h) / 2
	return s
}

// Count is how many labels are on the sheet.
func (s LabelSheet) Count() int { return s.Columns * s.Rows }

// Place is where a label begins, counted from 0 in lines from the top left.
func (s LabelSheet) Place(i int) (left, top Length) {
	return s.Left + Length(i%s.Columns)*s.PitchX, s.Top + Length(i/s.Columns)*s.PitchY
}

// mostLabels is far more than can be peeled off a sheet.
const mostLabels = 1000

// check tells what is wrong with a sheet of the owner's own.
func (s LabelSheet) check() error {
	paper, err := PaperNamed(s.Paper)
	switch {
	case err != nil:
		return fmt.Errorf("label sheet %q: %w", s.Name, err)
	case s.Columns < 1 || s.Rows < 1 || s.Columns > mostLabels || s.Rows > mostLabels || s.Count() > mostLabels:
		return Inputf("label sheet %q has %d columns and %d rows; give 1 to %d labels", s.Name, s.Columns, s.Rows, mostLabels)
	case s.Width <= 0 || s.Height <= 0 || s.Left < 0 || s.Top < 0:
		return Inputf("label sheet %q needs a width and a height, and left and top not below 0; measure them in millimetres", s.Name)
	case s.PitchX == 0 || s.PitchY == 0 || !sane(s.PitchX.MM()) || !sane(s.PitchY.MM()):
		return Inputf("label sheet %q has a pitch that is no length; measure it in millimetres", s.Name)
	case s.Columns > 1 && s.PitchX < s.Width, s.Rows > 1 && s.PitchY < s.Height:
		return Inputf("label sheet %q: labels overlap; pitch_x and pitch_y go from the edge of one label to the same edge of the next, so they are not less than width and height", s.Name)
	}
	left, top := s.Place(s.Count() - 1)
	if right, bottom := left+s.Width, top+s.Height; right > paper.Width || bottom > paper.Height {
		return Inputf("label sheet %q reaches %s to the right and %s down, beyond %s of %s by %s; measure again", s.Name, right, bottom, paper.Name, paper.Width, paper.Height)
	}
	return nil
}

// The codes that can stand on an envelope label.
const (
	Code128 = "code128"
	CodeQR  = "qr"
	NoCode  = "none"
)

// ParseCode reads which code an envelope label bears.
func ParseCode(s string) (string, error) {
	return oneOf("code", s, spell[string], Code128, CodeQR, NoCode)
}

// Printing is what is preset for everything that is printed.
type Printing struct {
	Paper  string `json:"paper,omitempty" cbor:"1,keyasint,omitempty"`
	Labels string `json:"label_sheet,omitempty" cbor:"2,keyasint,omitempty"` // the name of a LabelSheet
	Code   string `json:"code,omitempty" cbor:"3,keyasint,omitempty"`
}

func defaultPrinting() Printing { return Printing{Paper: "A4", Labels: "A4 3x7", Code: Code128} }

// Full is what is preset, with the program's own choice where the owner made
// none.
func (p Printing) Full() Printing {
	d := defaultPrinting()
	return Printing{cmp.Or(p.Paper, d.Paper), cmp.Or(p.Labels, d.Labels), cmp.Or(p.Code, d.Code)}
}

// LabelSheetNamed finds a sheet of labels, the owner's own first.
func (s *Shelf) LabelSheetNamed(name string) (LabelSheet, error) {
	all := append(s.Labels[:len(s.Labels):len(s.Labels)], LabelSheets()...)
	names := make([]string, len(all))
	for i, l := range all {
		if strings.EqualFold(l.Name, strings.TrimSpace(name)) {
			return l, nil
		}
		names[i] = fmt.Sprintf("%q", l.Name)
	}
	return LabelSheet{}, &FieldError{Field: "label sheet", Value: name, Problem: "is not known",
		Hint: "use one of: " + strings.Join(names, ", ") + "; or write a [[label_sheet]] of your own into the shelf file"}
}

// checkPrinting finds what cannot be printed on.
func (s *ShelfSpec) checkPrinting() error {
	once := map[string]bool{}
	for _, l := range s.Labels {
		if l.Name == "" || once[caseKey(l.Name)] {
			return Inputf("label sheet %q needs a name of its own", l.Name)
		}
		once[caseKey(l.Name)] = true
		if err := l.check(); err != nil {
			return err
		}
	}
	p := s.Settings.Printing
	if p.Paper != "" {
		if _, err := PaperNamed(p.Paper); err != nil {
			return err
		}
	}
	if p.Labels != "" {
		if _, err := (&Shelf{Labels: s.Labels}).LabelSheetNamed(p.Labels); err != nil {
			return err
		}
	}
	if p.Code != "" {
		if _, err := ParseCode(p.Code); err != nil {
			return err
		}
	}
	return nil
}
