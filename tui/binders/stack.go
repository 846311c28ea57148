package binders

import (
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/choose"
	"example.org/tuckrow/model/fit"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/tui/cells"
	"example.org/tuckrow/tui/frame"
)

// stack is sleeves that one leafs through: a binder, or what was chosen.
type stack struct {
	name   string
	about  string
	leaves []leaf
	lines  []line // the sleeves with the tabs between them
	at     int
	number int // cells that the longest number takes
}

// leaf is one sleeve, or an entry that leads to one.
type leaf struct {
	pattern model.PatternID
	pocket  int                // from the front, 1 first; 0: it has none, or was taken out of it
	in      model.Sleeve       // what is in the pocket
	home    *ordering.PocketAt // of a see-also entry: where the sleeve is
	also    string             // of a see-also entry: the category that it is in
	copied  bool               // the entry is a photocopy of the sleeve
	why     []string           // it was chosen
	copy    model.Accession
}

// line is a line of a list: a tab, or a sleeve.
type line struct {
	tab     string
	divider bool // it is a sub-divider of the owner's, or as good as one
	leaf    int  // the sleeve, or the one behind the tab
}

// stacksOf are the binders, with a tab at each sub-divider and publisher.
func stacksOf(l *ordering.Layout) []*stack {
	c, out := l.Collection(), []*stack{}
	for _, h := range l.Binders() {
		st := &stack{name: h.Title(), about: fmt.Sprintf("%d of %d pockets", h.Used(), h.Binder.Pockets)}
		if h.New {
			st.about += ", a binder to get"
		}
		heads := map[int]string{}
		for _, part := range h.Parts {
			if heads[part.From] = part.Title; part.Continued {
				heads[part.From] += " continued"
			}
		}
		publisher := model.PublisherID(0)
		for i, p := range h.Pockets {
			if heads[i] != "" {
				publisher = 0
				st.lines = append(st.lines, line{heads[i], true, i})
			}
			if p.Pattern.Publisher != publisher {
				publisher = p.Pattern.Publisher
				st.lines = append(st.lines, line{c.Publisher(publisher).Name, len(h.Parts) == 0, i})
			}
			st.lines = append(st.lines, line{leaf: i})
			l := leaf{pattern: p.Pattern.ID, pocket: p.N, in: p.In, home: p.Home, copied: p.Photocopy}
			if p.Home != nil {
				l.also = h.Category
			}
			st.put(l, p.Pattern)
		}
		out = append(out, st)
	}
	return out
}

func (st *stack) put(l leaf, p *model.Pattern) {
	st.leaves = append(st.leaves, l)
	st.number = max(st.number, cells.Width(cells.Plain(p.Number)))
}

// stackOf is what answers a question. What is not known to comes behind a tab
// that says so.
func stackOf(name string, offers []choose.Offer) *stack {
	st := &stack{name: name}
	tab := ""
	for i, o := range offers {
		if now := tabOf(o); now != tab {
			tab = now
			st.lines = append(st.lines, line{tab, true, i})
		}
		st.lines = append(st.lines, line{leaf: i})
		st.put(leaf{pattern: o.Pattern.ID, why: o.Reasons, copy: o.Copy.Accession}, o.Pattern)
	}
	return st
}

// tabOf is the tab behind which an answer comes; none for what is known to be one.
func tabOf(o choose.Offer) string {
	switch between := o.Fit != nil && o.Fit.Verdict == fit.Blend; {
	case o.Known && between:
		return "between two sizes"
	case o.Known:
		return ""
	case between:
		return "between two sizes; not known " + o.Unsure()
	}
	return "not known " + o.Unsure()
}

// goOn keeps a stack open at the sleeve at which the one before it was, or where
// that has gone, as near as can be.
func (st *stack) goOn(before *stack) {
	if before == nil || before.at >= len(before.leaves) {
		return
	}
	st.at = max(0, min(before.at, len(st.leaves)-1))
	for i, l := range st.leaves {
		if was := before.leaves[before.at]; l.pattern == was.pattern && (l.home == nil) == (was.home == nil) {
			st.at = i
		}
	}
}

// nextTab is the first sleeve behind the next tab, or with -1 behind the one
// that this stands behind, or behind the one before.
func (st *stack) nextTab(step int) int {
	to := st.at
	for _, l := range st.lines {
		if l.tab == "" {
			continue
		}
		if step > 0 && l.leaf > st.at {
			return l.leaf
		}
		if step < 0 && l.leaf < st.at {
			to = l.leaf
		}
	}
	return to
}

// job is what is to be worked out; the zero value of a part leaves it out.
type job struct {
	l     *ordering.Layout
	lay   bool
	asked *asked
	q     choose.Question
}

// result is what came of a job.
type result struct {
	rev     uint64
	binders []*stack
	asked   *asked
	chosen  *stack
}

func (j job) do() result {
	out := result{rev: j.l.Collection().Rev(), asked: j.asked}
	if j.lay {
		out.binders = stacksOf(j.l)
	}
	if j.asked != nil {
		out.chosen = stackOf(j.asked.name, choose.Offers(j.l.Collection(), j.q))
	}
	return out
}

// instant is up to how many copies things are worked out while one waits.
const instant = 4000

// needs is what the screen shows and is not known as it is now.
func (s *Screen) needs() (j job, anything bool) {
	rev := s.desk.Collection().Rev()
	j.l = s.desk.Layout
	j.lay = s.binders == nil || s.laidAt != rev
	if a := s.asked; a != nil && (s.chosen == nil || a.rev != rev) {
		j.asked, j.q = a, a.question(s.desk)
	}
	return j, j.lay || j.asked != nil
}

// refresh has worked out what the screen needs: at once, or aside where that
// takes longer than a key may. It is not done for a room that is not looked at.
func (s *Screen) refresh() {
	if s.working || !s.front {
		return
	}
	j, anything := s.needs()
	switch {
	case !anything:
	case s.desk.Collection().Copies().Len() <= instant:
		s.take(j.do())
	default:
		s.jobs++
		s.working = true
		what := ""
		if j.asked != nil {
			what = "looking through the shelf"
		}
		s.Tell(frame.Ask{Seq: s.jobs, What: what, Do: func() tea.Msg { return j.do() }})
	}
}

// take keeps what was worked out, as far as it is still asked for.
func (s *Screen) take(r result) {
	if r.binders != nil {
		for _, b := range r.binders {
			for _, before := range s.binders {
				if before.name == b.name {
					b.goOn(before)
				}
			}
		}
		s.binders, s.laidAt = r.binders, r.rev
	}
	if r.asked != nil && r.asked == s.asked {
		r.chosen.goOn(s.chosen)
		s.chosen, s.asked.rev = r.chosen, r.rev
	}
}

func joined(parts ...string) string {
	var there []string
	for _, p := range parts {
		if p != "" {
			there = append(there, p)
		}
	}
	return strings.Join(there, ", ")
}
