package shelf

import (
	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/ordering/reading"
	"example.org/tuckrow/tui/frame"
)

// sum is a box in short.
type sum struct {
	count  int
	label  string
	load   model.Length
	usable model.Length
}

// job is what is to be worked out; the zero value of a part leaves it out.
type job struct {
	l     *ordering.Layout
	sums  bool        // of all boxes
	box   model.BoxID // that is to be drawn
	read  *reader
	texts []string
	of    int // the version of the texts

	change   *model.SetShelf // that is to be weighed
	changeOf int
}

// result is what came of a job.
type result struct {
	rev      uint64
	sums     map[model.BoxID]sum
	box      model.BoxID
	held     ordering.Holding
	read     *reader
	report   *reading.Report
	of       int
	effect   *effect
	effectOf int
}

// reader reads one box. It belongs to the job that it is given to, until that
// is done.
type reader struct {
	box   model.BoxID
	r     *reading.Reader
	rev   uint64
	taken []string
}

// follow takes what was read, from where it differs from what it took before,
// and says what it amounts to.
func (r *reader) follow(l *ordering.Layout, texts []string) *reading.Report {
	box, there := l.Collection().Shelf().Box(r.box)
	if !there {
		return nil
	}
	if r.r == nil || r.rev != l.Collection().Rev() {
		r.r, r.rev, r.taken = reading.New(l, box), l.Collection().Rev(), nil
	}
	same := 0
	for same < len(texts) && same < len(r.taken) && texts[same] == r.taken[same] {
		same++
	}
	for len(r.taken) > same {
		r.r.Unread()
		r.taken = r.taken[:len(r.taken)-1]
	}
	for _, text := range texts[same:] {
		r.r.Take(text)
		r.taken = append(r.taken, text)
	}
	return r.r.Report()
}

func (j job) do() result {
	out := result{rev: j.l.Collection().Rev(), box: j.box, read: j.read, of: j.of, effectOf: j.changeOf}
	if j.sums {
		out.sums = map[model.BoxID]sum{}
		standing := j.l.Standing()
		for i := range standing {
			h := &standing[i]
			out.sums[h.Box.ID] = sum{len(h.Items), j.l.Label(h), h.Load, h.Usable}
		}
	}
	if j.box != 0 {
		out.held = j.l.StandingIn(j.box)
	}
	if j.read != nil {
		out.report = j.read.follow(j.l, j.texts)
	}
	if j.change != nil {
		out.effect = weigh(j.l, j.change)
	}
	return out
}

// instant is up to how many copies things are worked out while one waits.
// Above it a reading can cost a pass through the cupboard, and a picture the
// cards of all that stands.
const instant = 4000

// needs is what the screen shows and is not known as it is now.
func (s *Screen) needs() (j job, anything bool) {
	j.l = s.desk.Layout
	rev := s.desk.Collection().Rev()
	if s.stage == cupboard || s.stage == inside {
		j.sums = s.stage == cupboard && (s.sums == nil || s.sumsAt != rev)
		if s.box != 0 && (s.held.Box.ID != s.box || s.heldAt != rev) {
			j.box = s.box
		}
	}
	if s.stage == readingIt || s.stage == recording {
		if w := s.walk(); !w.fresh(rev) {
			j.read, j.texts, j.of = w.reader, w.texts, w.version
		}
	}
	if s.stage == weighing && s.saves == 0 && !s.draft.fresh(rev) {
		j.change, j.changeOf = s.draft.change(), s.draft.version
	}
	return j, j.sums || j.box != 0 || j.read != nil || j.change != nil
}

// refresh has worked out what the screen needs: at once, or aside where that
// takes longer than a key may. It is not done for a room that is not looked
// at: Intake would have it done for every entry.
func (s *Screen) refresh() {
	if s.asking || !s.viewed {
		return
	}
	j, anything := s.needs()
	switch {
	case !anything:
	case s.desk.Collection().Copies().Len() <= instant:
		s.take(j.do())
	default:
		s.asked++
		s.asking, s.viewed = true, false
		what := ""
		if j.change != nil { // a reading goes on with the reader of the one before, and is not stopped
			what = "weighing what saving comes to"
		}
		s.Tell(frame.Ask{Seq: s.asked, What: what, Do: func() tea.Msg { return j.do() }})
	}
}

// take keeps what was worked out.
func (s *Screen) take(r result) {
	if r.rev != s.desk.Collection().Rev() {
		s.viewed = true // it was, when this was asked for
	}
	if r.sums != nil {
		s.sums, s.sumsAt = r.sums, r.rev
	}
	if r.box != 0 {
		s.held, s.heldAt = r.held, r.rev
		s.lines = linesOf(&s.held)
	}
	s.weighed(r)
	if r.read == nil {
		return
	}
	if w := s.walks[r.read.box]; w != nil && w.reader == r.read {
		w.report, w.shows, w.rev = r.report, r.of, r.rev
		if w.shows != w.version {
			s.viewed = true
		}
	}
}
