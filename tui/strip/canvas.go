package strip

import (
	"strings"

	"example.org/tuckrow/tui/cells"
	"example.org/tuckrow/tui/theme"
	"github.com/charmbracelet/lipgloss"
)

// kind is what a cell shows, for its style.
type kind uint8

const (
	blank kind = iota
	plain
	wall
	tick
	card
	mark
	quiet
	warn
)

// cell is one cell of a line. Text wider than a cell is held by its first one;
// the others are empty but taken.
type cell struct {
	text string
	kind kind
}

// canvas is a line of cells. What is put outside of it is not there.
type canvas []cell

func newCanvas(w int) canvas { return make(canvas, max(0, w)) }

// set puts a sign into a cell.
func (c canvas) set(at int, sign string, k kind) {
	if at >= 0 && at < len(c) {
		c.clear(at)
		c[at] = cell{sign, k}
	}
}

// clear blanks a cell, and with it all of the text that has a part in it: half
// a word, or half a wide letter, is not to be left.
func (c canvas) clear(at int) {
	first := at
	for first > 0 && c[first].kind != blank && c[first].text == "" {
		first--
	}
	c[first] = cell{}
	for i := first + 1; i < len(c) && c[i].kind != blank && c[i].text == ""; i++ {
		c[i] = cell{}
	}
}

// fill puts a sign into the cells from one up to another.
func (c canvas) fill(from, to int, sign string, k kind) {
	for i := max(0, from); i < min(to, len(c)); i++ {
		c.set(i, sign, k)
	}
}

// erase blanks the cells from one on.
func (c canvas) erase(from int) {
	for i := max(0, from); i < len(c); i++ {
		c.clear(i)
	}
}

// put writes text that is to fit, and gives the cell behind it.
func (c canvas) put(at int, text string, k kind) int {
	w := cells.Width(text)
	if w == 0 || at < 0 || at+w > len(c) {
		return at
	}
	for i := at; i < at+w; i++ {
		c.clear(i)
	}
	c[at] = cell{text, k}
	for i := at + 1; i < at+w; i++ {
		c[i] = cell{"", k}
	}
	return at + w
}

// free counts the blank cells from one on, in one direction.
func (c canvas) free(at, step int) int {
	n := 0
	for ; at >= 0 && at < len(c) && c[at].kind == blank; at += step {
		n++
	}
	return n
}

// text makes one string of the line, with as few changes of style as can be.
func (c canvas) text(t *theme.Theme) string {
	end := len(c)
	for end > 0 && c[end-1].kind == blank {
		end--
	}
	var line, run strings.Builder
	for i := 0; i < end; {
		k := c[i].kind
		run.Reset()
		for ; i < end && c[i].kind == k; i++ {
			if k == blank {
				run.WriteByte(' ')
			} else {
				run.WriteString(c[i].text)
			}
		}
		line.WriteString(paint(t, k, run.String()))
	}
	return line.String()
}

func paint(t *theme.Theme, k kind, s string) string {
	if t == nil {
		return s
	}
	var style lipgloss.Style
	switch k {
	case blank:
		return s
	case plain:
		style = t.Plain
	case wall:
		style = t.Wall
	case tick:
		style = t.Tick
	case card:
		style = t.Card
	case mark:
		style = t.Mark
	case quiet:
		style = t.Quiet
	case warn:
		style = t.Warn
	}
	return style.Render(s)
}
