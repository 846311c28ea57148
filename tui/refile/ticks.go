package refile

import (
	"slices"

	"example.org/tuckrow/model"
	"example.org/tuckrow/tui/frame"
)

// kind is what a change of this room does.
type kind int

const (
	pull   kind = iota
	missed      // it was to be pulled and is not there
	put
	unfound // it was to be put in and is not there
	found   // it has turned up
	decide
	closing // all is done: the walls are settled no longer
	mending
)

// op is a change on its way to the disk.
type op struct {
	seq    uint64
	kind   kind
	copy   model.Accession
	box    model.Box
	at     int // of a put: the index in the row
	change model.Change
}

// on does to a row what the op does.
func (o op) on(row []model.Accession) []model.Accession {
	row = slices.Clone(row)
	switch at := slices.Index(row, o.copy); {
	case (o.kind == pull || o.kind == missed) && at >= 0:
		return slices.Delete(row, at, at+1)
	case o.kind == put && at < 0:
		return slices.Insert(row, min(o.at, len(row)), o.copy)
	}
	return row
}

// row is what stands in a box when all that is on its way is written.
func (s *Screen) row(box model.BoxID) []model.Accession {
	row := s.desk.Collection().Row(box)
	for _, o := range s.pending {
		if o.box.ID == box {
			row = o.on(row)
		}
	}
	return row
}

// stand is the change that records what stands in one box, and what the labels
// say where that is not on record yet.
func (s *Screen) stand(box model.Box, row []model.Accession) *model.Stand {
	return &model.Stand{Rows: []model.NamedRow{{Box: box.Name, Copies: row}}, Signs: s.desk.Layout.Found()}
}

func (s *Screen) write(o op) {
	s.seq++
	o.seq = s.seq
	s.pending = append(s.pending, o)
	s.Tell(frame.Write{Seq: o.seq, Change: o.change})
}

// tick notes the present task as done and goes on.
func (s *Screen) tick() {
	t := s.list().now()
	switch {
	case t == nil:
		return
	case !s.choosable(t):
		s.Tell(frame.Say{Text: "ticked already; ctrl+z takes back the last change"})
		return
	case s.lost(t.item.Copy) && (t.ticked || t.adrift): // it was not found, and turned up
		s.write(op{kind: found, copy: t.item.Copy, change: &model.PutBack{Copy: t.item.Copy}})
	case s.stage == pulling:
		s.move(t, pull)
	default:
		s.move(t, put)
	}
	s.advance()
}

// notHere notes that the envelope of the present task cannot be found: it is
// missing, and stands nowhere.
func (s *Screen) notHere() {
	t := s.list().now()
	switch {
	case t == nil || !s.choosable(t) || s.lost(t.item.Copy):
		return
	case s.stage == pulling:
		s.move(t, missed)
	default:
		ch := &model.Stand{Signs: s.desk.Layout.Found(), Missing: []model.Accession{t.item.Copy}, Done: s.closes(t)}
		s.write(op{kind: unfound, copy: t.item.Copy, change: ch})
	}
	s.advance()
}

// skip goes on without the present task; it comes again at the end.
func (s *Screen) skip() {
	if t := s.list().now(); t != nil && s.open(t) {
		s.skips[s.round()][t.item.Copy]++
		s.unkept = true
	}
	s.advance()
}

// move writes what a tick says: the box without the envelope, or with it
// behind its neighbour.
func (s *Screen) move(t *task, k kind) {
	o := op{kind: k, copy: t.item.Copy, box: t.box}
	row := s.row(t.box.ID)
	if k == put {
		o.at = s.walk.gap(t, row)
	}
	ch := s.stand(t.box, o.on(row))
	if k == missed {
		ch.Missing = []model.Accession{t.item.Copy}
	}
	t.ticked = true
	ch.Done = s.closes(t)
	o.change = ch
	s.write(o)
}

// closes tells whether a task is the last there is. It closes the refiling in
// the same change, so that one undo takes back both.
func (s *Screen) closes(t *task) bool {
	return s.complete(t) && s.settled() && len(s.pending) == 0
}

// complete tells whether nothing is left but a task, and what was not found.
func (s *Screen) complete(but *task) bool {
	left := func(t *task) bool { return t != but && !t.ticked && !s.lost(t.item.Copy) }
	return s.walk.pulls.count(left)+s.walk.puts.count(left) == 0
}

// finish records that what was decided has been carried out.
func (s *Screen) finish() { s.write(op{kind: closing, change: &model.Stand{Done: true}}) }

// taskOf is the task that an op has done.
func (s *Screen) taskOf(o op) *task {
	switch {
	case s.walk == nil:
	case o.kind == pull || o.kind == missed:
		return s.walk.pulls.of[o.copy]
	case o.kind == put:
		return s.walk.puts.of[o.copy]
	}
	return nil
}

func (s *Screen) onWritten(msg frame.Written) {
	i := slices.IndexFunc(s.pending, func(o op) bool { return o.seq == msg.Seq })
	if i < 0 {
		return
	}
	o := s.pending[i]
	s.pending = slices.Delete(s.pending, i, i+1)
	if msg.Err != nil {
		s.starting = s.starting && o.kind != decide
		s.goBack(o)
		return // the frame shows the error
	}
	s.mend(o, msg.Commit)
	if s.stage == ended && len(s.pending) == 0 && s.walk != nil && s.complete(nil) && s.settled() && o.kind != closing {
		s.finish()
	}
}

// goBack takes back what an op that failed was to do.
func (s *Screen) goBack(o op) {
	if t := s.taskOf(o); t != nil {
		t.ticked = false
		s.show(t)
	} else if o.kind == unfound && s.walk != nil {
		s.show(s.walk.puts.of[o.copy])
	}
}

// show goes to a task, unless somebody looks at the overview.
func (s *Screen) show(t *task) {
	if s.stage == overview || t == nil {
		return
	}
	s.stage, s.at = pulling, pulling
	if s.walk.puts.of[t.item.Copy] == t {
		s.stage, s.at = putting, putting
	}
	l := s.list()
	l.at = slices.Index(l.tasks, t)
}

// mend sees to it that a tick has recorded what was ticked and nothing else. A
// change says all that stands in a box, also what was ticked before it; when
// that failed, or was undone before this was written, it is no longer so.
func (s *Screen) mend(o op, commit model.Commit) {
	if o.kind != pull && o.kind != missed && o.kind != put {
		return
	}
	for _, e := range commit.Delta {
		if e.Kind != model.KindRow || model.BoxID(e.ID) != o.box.ID {
			continue
		}
		before, after := copiesOf(e.Before), copiesOf(e.After)
		moved := append(minus(before, after), minus(after, before)...)
		if len(moved) == 1 && moved[0] == o.copy {
			continue
		}
		if o.kind == put { // behind what it was put behind, as far as that stands
			front := after[:max(0, slices.Index(after, o.copy))]
			o.at = 0
			for i, a := range before {
				if slices.Contains(front, a) {
					o.at = i + 1
				}
			}
		}
		s.write(op{kind: mending, box: o.box, change: s.stand(o.box, o.on(before))})
	}
}

func copiesOf(r model.Record) []model.Accession {
	if row, ok := r.(*model.Row); ok && row != nil {
		return row.Copies
	}
	return nil
}

// minus lists what is in a and not in b.
func minus(a, b []model.Accession) []model.Accession {
	in := make(map[model.Accession]bool, len(b))
	for _, x := range b {
		in[x] = true
	}
	var out []model.Accession
	for _, x := range a {
		if !in[x] {
			out = append(out, x)
		}
	}
	return out
}

func (s *Screen) onStoreChanged(msg frame.StoreChanged) {
	s.desk.Follow(msg.Commit)
	switch {
	case s.walk == nil || !s.follow(msg.Commit):
		s.stale = true
	case !s.stale:
		s.walk.rev = msg.Commit.Collection.Rev()
	}
}

// follow takes a change along that only moves what the walk is about: a tick,
// or one taken back. The walls being settled, nothing else of the walk changes
// with it, and it need not be worked out again. It tells whether that was so.
func (s *Screen) follow(commit model.Commit) bool {
	same := true
	for _, e := range commit.Delta {
		switch e.Kind {
		case model.KindBatch, model.KindCategory, model.KindMeasure, model.KindPace:
			// They do not decide where anything stands.
		case model.KindCopy:
			same = s.followCopy(e.Before, e.After) && same
		case model.KindRow:
			same = s.followRow(model.BoxID(e.ID), copiesOf(e.Before), copiesOf(e.After)) && same
		default:
			same = false
		}
	}
	if back := s.takenBack(commit); back != nil {
		s.show(back)
	}
	return same
}

// followCopy tells whether a copy changed in nothing that decides where it
// stands, or has only been missed, or turned up, in this walk.
func (s *Screen) followCopy(before, after model.Record) bool {
	b, ok := before.(*model.Copy)
	a, ok2 := after.(*model.Copy)
	if !ok || !ok2 || b == nil || a == nil {
		return false
	}
	x := *a
	x.Enveloped, x.Grouped, x.Sleeve, x.Out, x.Notes, x.Complete = b.Enveloped, b.Grouped, b.Sleeve, b.Out, b.Notes, b.Complete
	if in, out := s.walk.puts.of[a.Accession], s.walk.pulls.of[a.Accession]; in != nil && !in.adrift || in == nil && out != nil {
		x.Missing = b.Missing
	}
	return x == *b
}

// takenBack is the task whose answer an undo has taken back, that it could not
// be found on the table; nil where it was something else.
func (s *Screen) takenBack(commit model.Commit) *task {
	if len(commit.Delta) == 0 || !commit.TakesBack() {
		return nil
	}
	var back *task
	for _, e := range commit.Delta {
		b, ok := e.Before.(*model.Copy)
		a, ok2 := e.After.(*model.Copy)
		switch {
		case e.Kind == model.KindRow: // it was to be pulled, and followRow shows it
			return nil
		case ok && ok2 && b.Missing != "" && a.Missing == "":
			back = s.walk.puts.of[a.Accession]
		}
	}
	return back
}

// followRow notes which ticks a change of a row makes or takes back. It tells
// whether the change was of nothing else.
func (s *Screen) followRow(box model.BoxID, before, after []model.Accession) (known bool) {
	gone, come := minus(before, after), minus(after, before)
	stay := slices.Equal(minus(before, gone), minus(after, come)) // in the same order
	known = stay && len(gone)+len(come) > 0
	for _, a := range gone {
		out, in := s.walk.pulls.of[a], s.walk.puts.of[a]
		switch {
		case in != nil && in.ticked && in.box.ID == box:
			in.ticked = false
			s.show(in)
		case out != nil && out.box.ID == box:
			out.ticked = true
		default:
			known = false
		}
	}
	for _, a := range come {
		out, in := s.walk.pulls.of[a], s.walk.puts.of[a]
		switch {
		case in != nil && in.ticked && in.box.ID == box:
			// It is our own tick.
		case out != nil && out.ticked && out.box.ID == box:
			out.ticked = false
			s.show(out)
		case in != nil && in.box.ID == box:
			in.ticked = true
		default:
			known = false
		}
	}
	return known
}
