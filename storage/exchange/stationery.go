package exchange

import (
	"cmp"

	"example.org/tuckrow/model"
)

// printFile is what is preset for printing.
type printFile struct {
	Paper  string `toml:"paper,omitempty" comment:"A4, Letter or A3"`
	Labels string `toml:"label_sheet,omitempty" comment:"by its grid; or one of your own, see label_sheet in README"`
	Code   string `toml:"code,omitempty" comment:"on envelope labels: code128, qr or none"`
}

// labelFile is a label sheet of the owner's own.
type labelFile struct {
	Name    string  `toml:"name"`
	Paper   string  `toml:"paper"`
	Columns int     `toml:"columns"`
	Rows    int     `toml:"rows"`
	Width   float64 `toml:"width"`
	Height  float64 `toml:"height"`
	Left    float64 `toml:"left" comment:"where the first label begins on the sheet"`
	Top     float64 `toml:"top"`
	PitchX  float64 `toml:"pitch_x" comment:"from the left edge of one label to the left edge of the next"`
	PitchY  float64 `toml:"pitch_y"`
}

func labelFileOf(s model.LabelSheet) labelFile {
	return labelFile{s.Name, s.Paper, s.Columns, s.Rows, s.Width.MM(), s.Height.MM(), s.Left.MM(), s.Top.MM(), s.PitchX.MM(), s.PitchY.MM()}
}

// sheet reads a label sheet. Where no pitch is given, there is no gap.
func (f labelFile) sheet() (model.LabelSheet, error) {
	s := model.LabelSheet{Name: f.Name, Paper: f.Paper, Columns: f.Columns, Rows: f.Rows}
	for _, l := range []struct {
		what string
		mm   float64
		to   *model.Length
	}{
		{"width", f.Width, &s.Width}, {"height", f.Height, &s.Height}, {"left", f.Left, &s.Left}, {"top", f.Top, &s.Top},
		{"pitch_x", cmp.Or(f.PitchX, f.Width), &s.PitchX}, {"pitch_y", cmp.Or(f.PitchY, f.Height), &s.PitchY},
	} {
		if !possible(l.mm) {
			return s, model.Inputf("the shelf file: %s of label sheet %q is %v; give millimetres between 0 and 100000", l.what, f.Name, l.mm)
		}
		*l.to = model.MM(l.mm)
	}
	return s, nil
}

// possible tells what can be a length in a room; it is false of what is no
// number.
func possible(mm float64) bool { return mm >= 0 && mm <= 100_000 }
