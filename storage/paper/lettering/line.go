package lettering

import (
	"github.com/go-text/typesetting/bidi"
	"github.com/go-text/typesetting/di"
	"github.com/go-text/typesetting/font"
	ot "github.com/go-text/typesetting/font/opentype"
	"github.com/go-text/typesetting/language"
	"github.com/go-text/typesetting/shaping"
	"golang.org/x/image/math/fixed"

	"example.org/tuckrow/model/words"
)

// Line is a text set in one line, at a size of 1: its lengths are in ems.
type Line struct {
	Text    string // cleaned, in the order in which it is read
	Runs    []Run  // from left to right
	Width   float64
	Top     float64 // how far it reaches above the baseline
	Bottom  float64 // and below
	Missing []rune  // what no font has; a box stands there
}

// Run is a stretch of a line in one font and one direction.
type Run struct {
	Face   *Face
	Glyphs []Glyph // from left to right
}

// Glyph is one shape of a font. X and Y are how far it is moved from where it
// would stand, right and up.
type Glyph struct {
	ID            uint16
	Advance, X, Y float64
	// Of is the text that this shape and those behind it stand for together, as
	// far as they have none of their own.
	Of string
}

// Setter sets text. It is not safe for use by several goroutines.
type Setter struct {
	shaper  shaping.HarfbuzzShaper
	split   shaping.Segmenter
	bidi    bidi.Paragraph
	faces   [2]map[*Face]*font.Face // as the shaper uses them
	known   map[*font.Face]*Face
	lines   map[lineKey]Line
	breaker breaker
}

type lineKey struct {
	weight Weight
	text   string
}

// New makes a setter.
func New() *Setter {
	return &Setter{faces: [2]map[*Face]*font.Face{{}, {}}, known: map[*font.Face]*Face{}, lines: map[lineKey]Line{}}
}

// em is the size at which text is shaped. Glyph positions come in 64ths of it.
const em = 1000

func ems(v fixed.Int26_6) float64 { return float64(v) / 64 / em }

// mostLines bounds how many lines are kept: publishers, categories and words
// come again and again, names do not.
const mostLines = 1 << 12

// Line sets a text in one line.
func (s *Setter) Line(text string, w Weight) Line {
	key := lineKey{w, text}
	if l, ok := s.lines[key]; ok {
		return l
	}
	if len(s.lines) == mostLines {
		clear(s.lines)
	}
	l := s.set([]rune(words.Clean(text)), w)
	s.lines[key] = l
	return l
}

func (s *Setter) set(text []rune, w Weight) Line {
	l := Line{Text: string(text)}
	if len(text) == 0 {
		return l
	}
	levels := s.levels(text)
	input := shaping.Input{Text: text, RunEnd: len(text), Size: fixed.I(em), Language: language.NewLanguage("en"),
		// Letters that are drawn together as one shape read no better and cannot
		// be searched for in every viewer.
		FontFeatures: []shaping.FontFeature{{Tag: ot.MustNewTag("liga"), Value: 0}}}
	if levels.base == 1 {
		input.Direction = di.DirectionRTL
	}
	var runs []leveled
	for _, in := range s.split.Split(input, chooser{s, w}) {
		for _, part := range levels.cut(in) {
			out := s.shaper.Shape(part)
			for _, g := range out.Glyphs {
				l.Top, l.Bottom = max(l.Top, ems(g.YBearing)), max(l.Bottom, -ems(g.YBearing+g.Height))
			}
			l.Width += ems(out.Advance)
			runs = append(runs, leveled{s.run(part, out.Glyphs, &l), levels.of[part.RunStart]})
		}
	}
	l.Runs = seen(runs)
	return l
}

// run takes over what the shaper gave.
func (s *Setter) run(in shaping.Input, glyphs []shaping.Glyph, l *Line) Run {
	r := Run{s.known[in.Face], make([]Glyph, len(glyphs))}
	for i, g := range glyphs {
		of := in.Text[g.TextIndex():][:g.RunesCount()]
		r.Glyphs[i] = Glyph{ID: uint16(g.GlyphID), Advance: ems(g.Advance), X: ems(g.XOffset), Y: ems(g.YOffset)}
		if i == 0 || glyphs[i-1].TextIndex() != g.TextIndex() {
			r.Glyphs[i].Of = string(of)
		}
		if g.GlyphID == 0 {
			l.Missing = append(l.Missing, of...)
		}
	}
	return r
}

// chooser gives each character a font that has it, the first one where none
// has.
type chooser struct {
	s *Setter
	w Weight
}

// ResolveFace implements shaping.Fontmap.
func (c chooser) ResolveFace(r rune) *font.Face {
	for _, f := range faces[c.w] {
		if _, ok := f.font().NominalGlyph(r); ok {
			return c.s.face(f, c.w)
		}
	}
	return c.s.face(faces[c.w][0], c.w)
}

func (s *Setter) face(f *Face, w Weight) *font.Face {
	known := s.faces[w]
	if known[f] == nil {
		known[f] = font.NewFace(f.font())
		s.known[known[f]] = f
	}
	return known[f]
}
