package split

import (
	"fmt"
	"slices"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model/words"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/tui/cells"
	"example.org/tuckrow/tui/frame"
)

// making is what is to be made for the boxes as they are settled, until each is
// noted as made.
type making struct {
	rev   uint64
	boxes []toMake
	count ordering.Redo
	at    int
	lines []string // as last drawn, for a width
	of    []int    // which box each line is of
	width int
}

// toMake is what a box wants.
type toMake struct {
	name  string
	items []signItem
}

// signItem is a label or a card.
type signItem struct{ what, text, note string }

// newMaking sorts what is outstanding by boxes, as one goes along them.
func newMaking(l *ordering.Layout) *making {
	m := &making{rev: l.Collection().Rev(), count: l.Outstanding()}
	for _, b := range m.count.ByBox() {
		x := toMake{name: b.Box.Name}
		add := func(what, text, note string) { x.items = append(x.items, signItem{what, text, note}) }
		if l := b.Label; l != nil {
			was, is := said(l.Was), l.Is
			if is == ordering.NoLabel {
				is = "take it off: the box stays empty"
			}
			add("label", is, was)
		}
		for _, c := range b.Cards {
			note := "before " + c.Before.Pattern.Heading()
			if c.From != "" {
				note = "from box " + c.From + ", " + note
			}
			add("card", c.Text, note)
		}
		for _, text := range b.Spare {
			add("card", text, "take it out")
		}
		m.boxes = append(m.boxes, x)
	}
	return m
}

// said is what stands beside a label: the one that the box had. One that holds
// something can have none.
func said(was string) string {
	if was == ordering.NoLabel {
		return "it has none yet"
	}
	return "was " + was
}

// says is what is to be made, in a few words.
func (m *making) says() string {
	return m.count.Text() + " for " + words.Count(len(m.boxes), "box", "boxes")
}

// due is what is to be made, when that is known of the cupboard as it is now and
// there is anything.
func (s *Screen) due() *making {
	if s.made != nil && s.made.rev == s.rev() && len(s.made.boxes) > 0 {
		return s.made
	}
	return nil
}

// take puts what is to be made in the place of what was, and stays on the box.
func (m *making) take(next *making) *making {
	if m != nil && m.at < len(m.boxes) {
		// The box itself, or where it was the one behind it.
		for i := m.at; i < len(m.boxes); i++ {
			at := slices.IndexFunc(next.boxes, func(b toMake) bool { return b.name == m.boxes[i].name })
			if at >= 0 {
				next.at = at
				break
			}
		}
	}
	return next
}

// onMaking is for keys where labels and cards are noted as made.
func (s *Screen) onMaking(msg tea.KeyMsg) {
	k, m := s.keys, s.due()
	switch {
	case key.Matches(msg, k.leave):
		s.stage = planning
	case m == nil || s.noting != 0:
	case key.Matches(msg, k.made):
		s.note(m.boxes[m.at].name)
	case key.Matches(msg, k.allMade):
		s.note()
	default:
		m.at = max(0, min(m.at+s.step(msg, len(m.boxes)), len(m.boxes)-1))
	}
}

// note has label and cards of these boxes noted as made, or those of all.
func (s *Screen) note(boxes ...string) {
	s.seq++
	s.noting = s.seq
	s.Tell(frame.Write{Seq: s.seq, Change: s.desk.Layout.SignsMade(boxes...)})
}

// makingView lists by boxes what is to be made.
func (s *Screen) makingView() []string {
	t := s.theme
	m := s.due()
	s.most = 0
	if m == nil {
		says := "every box has its label and cards"
		if s.made == nil || s.made.rev != s.rev() {
			says = "working it out ..."
		}
		return []string{s.spread("Labels and cards to make", "", t.Quiet), "", "  " + t.Good.Render(cells.Cut(says, max(0, s.w-2))), "",
			t.Quiet.Render(cells.Cut("  ctrl+r: the refiling", s.w))}
	}
	head := s.spread("Labels and cards to make", "f5: print; ctrl+r: the refiling", t.Quiet)
	if m.lines == nil || m.width != s.w {
		m.lines, m.of, m.width = nil, nil, s.w
		for i, b := range m.boxes {
			m.lines, m.of = append(m.lines, ""), append(m.of, i)
			for _, x := range b.items {
				m.lines, m.of = append(m.lines, s.itemLine(x)), append(m.of, i)
			}
		}
	}
	lines := []string{head, t.Strong.Render(cells.Cut(" "+m.says(), s.w))}
	return append(lines, s.around(m, max(1, s.h-len(lines)))...)
}

// itemLine writes one label or card. What is to be printed is cut last.
func (s *Screen) itemLine(x signItem) string {
	t := s.theme
	line := "     " + t.Quiet.Render(cells.Fit(x.what, 6))
	left := max(0, s.w-11)
	text := cells.Cut(x.text, left)
	if s.roomy() && cells.Width(text) < textWidth {
		text = cells.Fit(text, textWidth)
	}
	line += t.Strong.Render(text)
	if left -= cells.Width(text) + 2; x.note != "" && left > 6 {
		line += "  " + t.Quiet.Render(cells.Cut(x.note, left))
	}
	return line
}

// around is what is seen of the boxes: the chosen one, and of the others as many
// as there is room for.
func (s *Screen) around(m *making, room int) []string {
	t := s.theme
	first := slices.Index(m.of, m.at)
	last := first
	for last+1 < len(m.of) && m.of[last+1] == m.at {
		last++
	}
	from := max(0, min(first-room/3, len(m.lines)-room))
	if last >= from+room { // all of the chosen one, or its beginning
		from = min(first, last-room+1)
	}
	var out []string
	for i := from; i < len(m.lines) && len(out) < room; i++ {
		line := m.lines[i]
		if i == 0 || m.of[i] != m.of[i-1] {
			title := "box " + m.boxes[m.of[i]].name
			if m.of[i] == m.at {
				line = t.Focus.Render(cells.Cut(t.Glyphs.Arrow+" "+title+" ", s.w))
			} else {
				line = t.Heading.Render(cells.Cut("  "+title, s.w))
			}
		}
		out = append(out, line)
	}
	if rest := len(m.lines) - from - room; rest > 0 && len(out) > 1 {
		out[len(out)-1] = t.Quiet.Render(cells.Cut(fmt.Sprintf(" %s %s more", t.Glyphs.Down, words.Count(rest+1, "line", "lines")), s.w))
	}
	return out
}
