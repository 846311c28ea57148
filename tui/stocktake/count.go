package stocktake

import (
	"fmt"
	"slices"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
	"example.org/tuckrow/ordering/reading"
	"example.org/tuckrow/tui/frame"
)

// count is what was found in a box, front to back.
type count struct {
	name  string // of the box, for when it is gone
	steps []step
	done  bool
	lost  []model.Accession // not found, when it was done
	moved moved
	typed string // stood in the field when it was left
}

// step is one envelope, or one that is not there.
type step struct {
	Read string          `json:"read,omitempty"` // as reading takes it; empty: it is not there
	Copy model.Accession `json:"copy,omitempty"` // 0: on no list
	From model.BoxID     `json:"from,omitempty"` // where it was recorded then; 0: in no box
	Off  bool            `json:"off,omitempty"`  // recorded in this box, and not where it was read
}

// count is that of the chosen box.
func (s *Screen) count() *count {
	b := s.box()
	n := s.counts[b.ID]
	if n == nil {
		n = &count{name: b.Name, moved: moved{}}
		s.counts[b.ID] = n
	}
	return n
}

// done is how many boxes are counted.
func (s *Screen) done() int {
	n := 0
	for _, b := range s.boxes() {
		if c := s.counts[b.ID]; c != nil && c.done {
			n++
		}
	}
	return n
}

// begin counts the chosen box, or goes on with it.
func (s *Screen) begin() {
	if s.begun == "" {
		s.restart(s.desk.Today())
	}
	n := s.count()
	if n.done {
		n.done, s.taken = false, nil
	}
	s.stage, s.unkept = counting, true
	s.field.SetValue(n.typed)
	s.field.CursorEnd()
	s.field.Focus()
}

// leave keeps what was counted, and what is typed.
func (s *Screen) leave() {
	n := s.count()
	n.typed, s.stage, s.unkept = s.field.Value(), listing, true
	if len(n.steps) == 0 && n.typed == "" && !n.done {
		delete(s.counts, s.box().ID)
	}
}

// reader compares what is read in a box with what is recorded there. It is made
// anew where one of the two was altered.
type reader struct {
	box   model.BoxID
	rev   uint64
	steps int
	at    map[model.Accession]int // in the row
	next  int                     // in the row: what is expected
	r     *reading.Reader
	last  reading.Finding // of what was read last
}

// follow brings the reader up to what was counted.
func (s *Screen) follow() *reader {
	r, c, b, n := &s.reader, s.desk.Collection(), s.box(), s.count()
	if r.r == nil || r.box != b.ID || r.rev != c.Rev() || r.steps > len(n.steps) {
		*r = reader{box: b.ID, rev: c.Rev(), at: map[model.Accession]int{}, r: reading.New(s.desk.Layout, b)}
		for i, a := range c.Row(b.ID) {
			r.at[a] = i
		}
	}
	for _, x := range n.steps[r.steps:] {
		if x.Read != "" {
			r.r.Take(x.Read)
		}
		if i, here := r.at[x.Copy]; here && x.Copy != 0 && i >= r.next {
			r.next = i + 1
		}
		r.steps++
	}
	return r
}

// expected is what comes next by the record; 0 at the end of the box.
func (s *Screen) expected() model.Accession {
	row, r := s.desk.Collection().Row(s.box().ID), s.follow()
	if r.next >= len(row) {
		return 0
	}
	return row[r.next]
}

func (s *Screen) add(x step) {
	n := s.count()
	spot, _ := s.desk.Collection().Standing(x.Copy)
	x.From, s.unkept = spot.Box, true
	delete(n.moved, x.Copy)
	n.steps = append(n.steps[:len(n.steps):len(n.steps)], x)
}

// here notes that what is expected stands there: the envelope, or where it is out
// its out card.
func (s *Screen) here() {
	a := s.expected()
	switch {
	case a == 0:
		return
	case s.desk.Collection().Copy(a).Out != nil:
		s.add(step{Read: "-", Copy: a})
	default:
		s.add(step{Read: fmt.Sprintf("#%d", a), Copy: a})
	}
	s.reader.last = reading.Finding{}
}

// notHere notes that what is expected does not stand there.
func (s *Screen) notHere() {
	if a := s.expected(); a != 0 {
		s.add(step{Copy: a})
		s.reader.last = reading.Finding{}
	}
}

// back takes the last step back.
func (s *Screen) back() {
	if n := s.count(); len(n.steps) > 0 {
		n.steps, s.unkept = slices.Clone(n.steps[:len(n.steps)-1]), true
		s.reader = reader{}
	}
}

// read takes what is typed or scanned; false where it can be several.
func (s *Screen) read(text string) bool {
	n := s.count()
	if model.IsGTIN(text) {
		text = s.desk.Scanned(text, s.box().ID, func(a model.Accession) bool {
			return slices.ContainsFunc(n.steps, func(x step) bool { return x.Copy == a && x.Read != "" })
		})
	}
	r := s.follow()
	f := r.r.Read(text)
	r.r.Unread() // it is taken with its step, as what it turned out to be
	switch f.Kind {
	case reading.Ambiguous:
		s.Tell(frame.Complain{Err: model.Inputf("%q can be %s; look at the envelope and give its accession number, like \"#%d\"", text, numbered(f.Could), f.Could[0])})
		return false
	case reading.Again:
		s.Tell(frame.Complain{Err: model.Inputf("%q was read in this box before; look which of the two it is", text)})
		return false
	case reading.Gap:
		a := s.expected()
		if a != 0 && s.desk.Collection().Copy(a).Out == nil {
			a = 0 // an out card of something else, or nothing
		}
		s.add(step{Read: "-", Copy: a})
	default:
		if f.Copy != 0 {
			text = fmt.Sprintf("#%d", f.Copy)
		}
		s.add(step{Read: text, Copy: f.Copy, Off: f.Crosses != "" || f.Kind == reading.Misplaced && !f.Fits})
	}
	s.follow().last = f
	return true
}

func numbered(copies []model.Accession) string {
	var parts []string
	for _, a := range copies {
		parts = append(parts, fmt.Sprintf("#%d", a))
	}
	return strings.Join(parts, " or ")
}

// onPasted takes each line of what was pasted as read, as from a scanner that kept
// what it read; what has no line break behind it is to be looked at first.
func (s *Screen) onPasted(text string) {
	if s.stage == naming {
		_ = s.file.Paste(text)
	}
	if !s.inBox() {
		return
	}
	s.stage = counting
	all := strings.Split(text, "\n")
	all[0] = s.field.Value() + all[0]
	for i, l := range all[:len(all)-1] {
		if l = words.Clean(l); l != "" && !s.read(l) {
			all = []string{strings.Join(all[i:], " ")} // it stays to be looked at
			break
		}
	}
	s.field.SetValue(words.Clean(all[len(all)-1]))
	s.field.CursorEnd()
}

// enter takes what is typed. Nothing typed is nothing read: a scanner can send Enter
// twice.
func (s *Screen) enter() {
	if text := words.Clean(s.field.Value()); text != "" && s.read(text) {
		s.field.SetValue("")
	}
}

// close notes the box as counted, all that comes in it after what was read being
// not there.
func (s *Screen) close() {
	switch b := s.box(); {
	case s.closes != 0:
	case len(s.desk.Collection().Row(b.ID)) == 0: // there is no day to be kept
		s.finish(b.ID)
	default:
		s.closing = b.ID
		s.closes = s.write(&model.Count{Boxes: []string{b.Name}})
	}
}

func (s *Screen) onWritten(msg frame.Written) {
	switch msg.Seq {
	case s.settles:
		s.settles = 0
	case s.closes:
		if s.closes = 0; msg.Err == nil {
			s.finish(s.closing)
		} else if s.stage == ending {
			s.stage = counting
		}
	}
}

// finish closes the count of a box, and goes on to the next.
func (s *Screen) finish(box model.BoxID) {
	n := s.counts[box]
	if n == nil {
		return
	}
	found := map[model.Accession]bool{}
	for _, x := range n.steps {
		found[x.Copy] = found[x.Copy] || x.Read != ""
	}
	n.done, n.typed, n.lost, s.taken, s.unkept = true, "", nil, nil, true
	for _, a := range s.desk.Collection().Row(box) {
		if !found[a] && s.desk.Collection().Copy(a).Out == nil {
			n.lost = append(n.lost, a)
		}
	}
	if s.inBox() && s.box().ID == box {
		s.next()
	}
}

// next leads back to the list, and to the next box that is not counted, in walking
// order.
func (s *Screen) next() {
	s.stage = listing
	s.field.SetValue("")
	boxes := s.boxes()
	for i := range boxes {
		at := (s.at + 1 + i) % len(boxes)
		if n := s.counts[boxes[at].ID]; (n == nil || !n.done) && len(s.desk.Collection().Row(boxes[at].ID)) > 0 {
			s.at = at
			return
		}
	}
	s.Tell(frame.Say{Text: "all boxes that hold something are counted; tab lists what differs"})
}

// walks is what was read in the boxes that are counted. What stands elsewhere now
// than when it was read was moved since, and is left out.
func (s *Screen) walks() []reading.Walked {
	c := s.desk.Collection()
	var out []reading.Walked
	for _, b := range s.boxes() {
		n := s.counts[b.ID]
		if n == nil || !n.done {
			continue
		}
		w := reading.Walked{Box: b}
		for _, x := range n.steps {
			spot, _ := c.Standing(x.Copy)
			moved := x.Copy != 0 && spot.Box != x.From && spot.Box != b.ID || n.moved[x.Copy] > 0
			if x.Read != "" && !moved && (x.Copy == 0 || x.Read == "-" || c.Copy(x.Copy) != nil) {
				w.Lines = append(w.Lines, x.Read)
			}
		}
		out = append(out, w)
	}
	return out
}

// lost are the copies that were not found when their boxes were counted. What came
// into a box since is none of them, nor is what has left it.
func (s *Screen) lost() map[model.Accession]bool {
	lost := map[model.Accession]bool{}
	for _, n := range s.counts {
		for _, a := range n.lost {
			lost[a] = n.done && n.moved[a] == 0
		}
	}
	return lost
}

func (s *Screen) onCountKey(msg tea.KeyMsg) tea.Cmd {
	k := s.keys
	switch {
	case key.Matches(msg, k.read):
		s.enter()
	case key.Matches(msg, k.here) && s.field.Value() == "":
		s.here()
	case key.Matches(msg, k.gone) && s.field.Value() == "":
		s.notHere()
	case key.Matches(msg, k.end) && s.field.Value() == "":
		s.end()
	case key.Matches(msg, k.leave):
		s.leave()
		return s.keep()
	case key.Matches(msg, k.back) && s.field.Value() == "":
		s.back()
	default:
		var cmd tea.Cmd
		s.field, cmd = s.field.Update(msg)
		return cmd
	}
	return nil
}
