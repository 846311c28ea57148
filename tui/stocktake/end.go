package stocktake

import (
	"fmt"
	"slices"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model"
	"example.org/tuckrow/tui/cells"
)

// uncounted are those recorded behind all that was gone through, but what is out, or
// was found in another box.
func (s *Screen) uncounted() []model.Accession {
	c, found := s.desk.Collection(), map[model.Accession]bool{}
	for _, n := range s.counts {
		for _, x := range n.steps {
			found[x.Copy] = found[x.Copy] || x.Read != ""
		}
	}
	row := c.Row(s.box().ID)
	rest := row[min(s.follow().next, len(row)):]
	return slices.DeleteFunc(slices.Clone(rest), func(a model.Accession) bool { return c.Copy(a).Out != nil || found[a] })
}

// inBox tells whether a box is being counted.
func (s *Screen) inBox() bool { return s.stage == counting || s.stage == ending }

// end closes the count, once it is said what those are that were not gone through.
func (s *Screen) end() {
	if len(s.uncounted()) == 0 {
		s.close()
		return
	}
	s.stage = ending
}

func (s *Screen) onEndKey(msg tea.KeyMsg) tea.Cmd {
	switch {
	case key.Matches(msg, s.keys.short):
		s.close()
	case key.Matches(msg, s.keys.goOn):
		s.stage = counting
	case msg.Type == tea.KeyRunes: // a scanner does not wait
		s.stage = counting
		return s.onCountKey(msg)
	}
	return nil
}

// endView asks whether what was not gone through is missing.
func (s *Screen) endView() []string {
	t, c, rest := s.theme, s.desk.Collection(), s.uncounted()
	one, them := "1 envelope recorded in it is not counted", "it is not there"
	if len(rest) > 1 {
		one, them = fmt.Sprintf("%d envelopes recorded in it are not counted", len(rest)), "none of them is there"
	}
	lines := s.spaced([]string{t.Spread(t.Heading, "The end of box "+s.box().Name+"?", fmt.Sprintf("%d gone through", len(s.count().steps)), s.w)})
	for i, l := range cells.Wrap(one+": enter if "+them+"; esc goes on counting", max(1, s.w-4)) {
		sign := t.Glyphs.Alert
		if i > 0 {
			sign = " "
		}
		lines = append(lines, t.Warn.Render(cells.Cut("  "+sign+" "+l, s.w)))
	}
	lines = s.spaced(lines)
	for i, a := range rest {
		if len(lines) >= s.h-1 && i < len(rest)-1 {
			return append(lines, t.Quiet.Render(cells.Cut(fmt.Sprintf("    and %d more", len(rest)-i), s.w)))
		}
		lines = append(lines, t.Plain.Render(cells.Cut("    "+c.PatternOf(a).Heading(), s.w)))
	}
	return lines
}

// reopen takes back that boxes are counted, where an undo has taken back the day: it
// is one step, and what was gone through in them stays.
func (s *Screen) reopen(commit model.Commit) {
	if !commit.TakesBack() {
		return
	}
	for _, e := range commit.Delta {
		b, ok := e.Before.(*model.Row)
		a, ok2 := e.After.(*model.Row)
		if !ok || !ok2 || !slices.Equal(b.Copies, a.Copies) {
			continue
		}
		if n := s.counts[a.Box]; n != nil && n.done {
			n.done, n.lost, s.taken, s.unkept = false, nil, nil, true
		}
	}
}
