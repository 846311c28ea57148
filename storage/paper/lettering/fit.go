package lettering

import (
	"slices"
	"strings"

	"github.com/go-text/typesetting/segmenter"

	"example.org/tuckrow/model/words"
)

// Style says how a text is to be set: in points, at first, and at the least.
type Style struct {
	Weight      Weight
	Size, Least float64
}

// Room is what a text may take, in millimetres, and in how many lines at most;
// 0 lines: as many as go in.
type Room struct {
	W, H  float64
	Lines int
}

// Block is a text fitted into its room.
type Block struct {
	Lines []Line
	Size  float64 // points
	Whole string  // the text, all of it
	Cut   bool    // the lines do not say all of it
}

// Missing lists what no font has, of all lines.
func (b Block) Missing() []rune {
	var all []rune
	for _, l := range b.Lines {
		all = append(all, l.Missing...)
	}
	return all
}

// above and below are what a line takes over and under its baseline, in ems:
// letters with their accents, and a little air. A script that reaches further
// takes more.
const (
	above = 0.92
	below = 0.28
)

// Above is how far below the top of its room a line's baseline lies, in ems.
func (l *Line) Above() float64 { return max(above, l.Top) }

// Below is how much room a line takes under its baseline, in ems.
func (l *Line) Below() float64 { return max(below, l.Bottom) }

// Height is what the lines take, in millimetres.
func (b Block) Height() float64 { return height(b.Lines, b.Size) }

func height(lines []Line, size float64) float64 {
	h := 0.0
	for i := range lines {
		h += lines[i].Above() + lines[i].Below()
	}
	return h * size * Point
}

// Width is what the widest line takes, in millimetres.
func (b Block) Width() float64 {
	w := 0.0
	for _, l := range b.Lines {
		w = max(w, l.Width)
	}
	return w * b.Size * Point
}

// step is by how much a text is set smaller when it does not go in, in points.
const step = 0.5

// ellipsis stands where a text goes on elsewhere.
const ellipsis = "…"

// Fit sets a text into its room: at its size, or smaller down to the least; and
// where it does not go in then, shortened behind a word, or within the first
// word where even that is too long.
func (s *Setter) Fit(text string, st Style, room Room) Block {
	b := Block{Whole: words.Clean(text), Size: st.Size}
	pieces := s.breaker.pieces(b.Whole)
	for {
		if lines, ok := s.wrap(pieces, st.Weight, b.Size, room); ok {
			b.Lines = lines
			return b
		}
		if b.Size <= st.Least {
			break
		}
		b.Size = max(st.Least, b.Size-step)
	}
	b.Cut = true
	b.Lines = s.shorten(pieces, st.Weight, b.Size, room)
	return b
}

// wrap lays pieces into lines, each as full as it gets; false when they do not
// all go in.
func (s *Setter) wrap(pieces []string, w Weight, size float64, room Room) ([]Line, bool) {
	var lines []Line
	for from := 0; from < len(pieces); {
		line, next := s.fullest(pieces, from, w, room.W/(size*Point))
		if next == from {
			return nil, false
		}
		lines, from = append(lines, line), next
		if room.Lines > 0 && len(lines) > room.Lines || height(lines, size) > room.H+slack {
			return nil, false
		}
	}
	return lines, true
}

// slack is a hair's breadth that sums of measures may be off, in millimetres.
const slack = 1e-6

// fullest sets as many pieces as go into one line of so many ems, and gives the
// next piece.
func (s *Setter) fullest(pieces []string, from int, w Weight, most float64) (Line, int) {
	var best Line
	next := from
	for to := from + 1; to <= len(pieces); to++ {
		l := s.Line(strings.Join(pieces[from:to], ""), w)
		if l.Width > most {
			break
		}
		best, next = l, to
	}
	return best, next
}

// shorten sets as many pieces as go in before an ellipsis.
func (s *Setter) shorten(pieces []string, w Weight, size float64, room Room) []Line {
	for n := len(pieces) - 1; n > 0; n-- {
		shorter := append(slices.Clone(pieces[:n-1]), ended(pieces[n-1]))
		if lines, ok := s.wrap(shorter, w, size, room); ok {
			return lines
		}
	}
	signs := s.breaker.signs(pieces[0])
	for n := len(signs) - 1; n > 0; n-- {
		if lines, ok := s.wrap([]string{ended(strings.Join(signs[:n], ""))}, w, size, room); ok {
			return lines
		}
	}
	lines, _ := s.wrap([]string{ellipsis}, w, size, room)
	return lines
}

// ended puts the ellipsis behind a word, in place of what would part it from
// the next.
func ended(word string) string { return strings.TrimRight(word, " ,;:.-–—/(") + ellipsis }

// breaker finds where a text may be broken.
type breaker struct{ segmenter.Segmenter }

// pieces parts a text where a line may end (Unicode Standard Annex 14).
func (b *breaker) pieces(text string) []string {
	b.Init([]rune(text))
	var out []string
	for it := b.LineIterator(); it.Next(); {
		out = append(out, string(it.Line().Text))
	}
	return out
}

// signs parts a text into what is seen as one character (Annex 29).
func (b *breaker) signs(text string) []string {
	b.Init([]rune(text))
	var out []string
	for it := b.GraphemeIterator(); it.Next(); {
		out = append(out, string(it.Grapheme().Text))
	}
	return out
}
