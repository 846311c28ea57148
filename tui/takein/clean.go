package takein

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model/clean"
)

// row is a line of the list of proposals: one of them, or the head of a group.
type row struct {
	kind clean.Kind
	of   int // the proposal; heading: none
	n    int // proposals in the group, of a head
	took int // of these taken, of a head
}

const heading = -1

// grouped puts proposals into groups.
func grouped(all []clean.Proposal) (rows []row) {
	for _, kind := range clean.Kinds() {
		head := len(rows)
		rows = append(rows, row{kind: kind, of: heading})
		for i := range all {
			if all[i].Kind == kind {
				rows = append(rows, row{kind: kind, of: i})
			}
		}
		if rows[head].n = len(rows) - head - 1; rows[head].n == 0 {
			rows = rows[:head]
		}
	}
	return rows
}

// count counts what is taken in each group, and gives how many are in all.
func (s *Sheet) count() (all int) {
	head := 0
	for i, r := range s.rows {
		if r.of == heading {
			head = i
			s.rows[i].took = 0
		} else if s.take[r.of] {
			s.rows[head].took++
			all++
		}
	}
	return all
}

// turn takes a proposal or leaves it: on a head all of its group, unless all are
// taken.
func (s *Sheet) turn() {
	r := s.rows[s.at]
	if r.of != heading {
		s.take[r.of] = !s.take[r.of]
	} else {
		for i, p := range s.proposals {
			if p.Kind == r.kind {
				s.take[i] = r.took < r.n
			}
		}
	}
	s.count()
}

// all takes every proposal, or none where all are taken.
func (s *Sheet) all() {
	to := s.count() < len(s.proposals)
	for i := range s.take {
		s.take[i] = to
	}
	s.count()
}

func (s *Sheet) onCleanKey(msg tea.KeyMsg) {
	k := s.keys
	switch {
	case key.Matches(msg, k.back):
		s.stage = mapping
	case key.Matches(msg, k.turn):
		s.turn()
	case key.Matches(msg, k.all):
		s.all()
	case key.Matches(msg, k.mended):
		s.judge()
	case key.Matches(msg, k.group):
		for i := 1; i <= len(s.rows); i++ {
			if at := (s.at + i) % len(s.rows); s.rows[at].of == heading {
				s.at = at
				break
			}
		}
	default:
		s.at = max(0, min(s.at+s.step(msg, len(s.rows)), len(s.rows)-1))
	}
}

// where says in which lines of the file a proposal is.
func (s *Sheet) where(p *clean.Proposal) string {
	text := fmt.Sprintf("line %d", s.lines[p.Rows[0]])
	if n := len(p.Rows); n > 1 {
		text = fmt.Sprintf("%d lines from %d", n, s.lines[p.Rows[0]])
	}
	return text
}

// edits says what a proposal alters.
func (s *Sheet) edits(p *clean.Proposal) string {
	var out []string
	for _, e := range p.Edits {
		text := fmt.Sprintf("%s %q %s %q", strings.ReplaceAll(e.Field, "_", " "), e.Was, s.theme.Glyphs.Arrow, e.Is)
		if e.Was == "" {
			text = fmt.Sprintf("%s %s %q", strings.ReplaceAll(e.Field, "_", " "), s.theme.Glyphs.Arrow, e.Is)
		}
		out = append(out, text)
	}
	return strings.Join(out, "; ")
}
