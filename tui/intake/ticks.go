package intake

import (
	"fmt"
	"slices"
	"strconv"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model"
	"example.org/tuckrow/tui/frame"
)

// ticks is the list of what is at a step, in the order of arrival, which is the
// order in which it lies on the table.
type ticks struct {
	open   bool
	step   model.Step
	batch  model.BatchID // 0: of all
	list   []model.Accession
	at     int
	last   int                            // where a mark was set last
	marks  map[model.Accession]model.Step // by the step that they are for
	marked int                            // of them in the list
	count  string                         // digits typed before a mark
	stale  bool                           // there was a change since
	steps  map[model.BatchID]model.StepCounts
}

// openTicks opens the list at the batch that is being emptied, at the first
// step that something of it is at.
func (s *Screen) openTicks() {
	t := &s.ticks
	t.open, s.note, t.count = true, "", ""
	s.pause()
	if b := s.desk.Collection().BatchNamed(s.fields[fBatch].text()); b != nil && t.marked == 0 {
		t.batch = b.ID
	}
	s.countSteps()
	if t.marked == 0 && t.steps[t.batch][t.step] == 0 {
		for _, step := range model.Steps() {
			if t.steps[t.batch][step] > 0 {
				t.step = step
				break
			}
		}
	}
	s.listTicks()
}

func (s *Screen) pause() {
	s.pace.pause()
	s.fields[s.focus].input.Blur()
}

func (s *Screen) closeTicks() tea.Cmd {
	s.ticks.open, s.note = false, ""
	s.look()
	return s.fields[s.focus].input.Focus()
}

// countSteps counts what is at which step, by batch; under 0 all together.
func (s *Screen) countSteps() {
	c := s.desk.Collection()
	all := map[model.BatchID]*model.StepCounts{}
	for _, cp := range c.Copies().All() {
		if all[cp.Batch] == nil {
			all[cp.Batch] = new(model.StepCounts)
		}
		all[cp.Batch][c.StepOf(cp)]++
	}
	s.ticks.steps = map[model.BatchID]model.StepCounts{}
	for id, n := range all {
		if id != 0 {
			s.ticks.steps[id] = *n
		}
	}
	s.ticks.steps[0] = c.Steps()
}

// listTicks lists what is at the step. Marks stay, in other lists too, on what is
// still at the step that they were set for.
func (s *Screen) listTicks() {
	t, c := &s.ticks, s.desk.Collection()
	was := model.Accession(0)
	if t.at < len(t.list) {
		was = t.list[t.at]
	}
	t.list, t.stale = nil, false
	if t.marks == nil {
		t.marks = map[model.Accession]model.Step{}
	}
	for a, step := range t.marks {
		if cp := c.Copy(a); cp == nil || c.StepOf(cp) != step {
			delete(t.marks, a)
		}
	}
	for _, cp := range c.Copies().All() {
		if (t.batch == 0 || cp.Batch == t.batch) && c.StepOf(cp) == t.step {
			t.list = append(t.list, cp.Accession)
		}
	}
	t.recount()
	if i := slices.Index(t.list, was); i >= 0 {
		t.at = i
	}
	t.at = min(t.at, max(0, len(t.list)-1))
	t.last = min(t.last, max(0, len(t.list)-1))
}

func (s *Screen) onTickKey(msg tea.KeyMsg) tea.Cmd {
	t, k := &s.ticks, s.keys
	if t.stale {
		s.countSteps()
		s.listTicks()
	}
	if d := msg.String(); len(d) == 1 && d[0] >= '0' && d[0] <= '9' && len(t.count) < 4 {
		t.count += d
		return nil
	}
	count, _ := strconv.Atoi(t.count) // digits, or nothing
	t.count, s.note = "", ""
	page := max(1, s.h-6)
	switch {
	case key.Matches(msg, k.back):
		return s.closeTicks()
	case key.Matches(msg, k.up):
		t.at = max(0, t.at-max(1, count))
	case key.Matches(msg, k.down):
		t.at = min(max(0, len(t.list)-1), t.at+max(1, count))
	case key.Matches(msg, k.pageUp):
		t.at = max(0, t.at-page)
	case key.Matches(msg, k.pageDown):
		t.at = min(max(0, len(t.list)-1), t.at+page)
	case key.Matches(msg, k.mark):
		t.mark(count)
	case key.Matches(msg, k.stretch):
		t.stretch()
	case key.Matches(msg, k.all):
		t.markAll()
	case key.Matches(msg, k.step):
		s.otherStep(+1)
	case key.Matches(msg, k.stepBack):
		s.otherStep(-1)
	case key.Matches(msg, k.drawer):
		s.otherBatch()
	default:
		return s.onDoneKey(msg)
	}
	return nil
}

func (t *ticks) isMarked(a model.Accession) bool {
	step, marked := t.marks[a]
	return marked && step == t.step
}

// recount counts the marks in the list.
func (t *ticks) recount() {
	t.marked = 0
	for _, a := range t.list {
		if t.isMarked(a) {
			t.marked++
		}
	}
}

// mark marks the copy at the cursor, or so many from there on, and goes behind
// them; a single one that is marked loses its mark.
func (t *ticks) mark(count int) {
	if len(t.list) == 0 {
		return
	}
	end := min(len(t.list), t.at+max(1, count))
	for _, a := range t.list[t.at:end] {
		if count < 1 && t.isMarked(a) {
			delete(t.marks, a)
		} else {
			t.marks[a] = t.step
		}
	}
	t.last, t.at = end-1, min(end, len(t.list)-1)
	t.recount()
}

// stretch marks all from the last mark to the cursor.
func (t *ticks) stretch() {
	if len(t.list) == 0 {
		return
	}
	for _, a := range t.list[min(t.last, t.at) : max(t.last, t.at)+1] {
		t.marks[a] = t.step
	}
	t.last = t.at
	t.recount()
}

func (t *ticks) markAll() {
	every := t.marked == len(t.list)
	for _, a := range t.list {
		if every {
			delete(t.marks, a)
		} else {
			t.marks[a] = t.step
		}
	}
	t.recount()
}

func (s *Screen) otherStep(by int) {
	t := &s.ticks
	n := len(model.Steps())
	t.step = model.Step((int(t.step) + n + by) % n)
	s.from()
}

// otherBatch goes to the next batch of which something is left to do, and
// behind the last to all together.
func (s *Screen) otherBatch() {
	s.ticks.batch = s.nextBatch()
	s.from()
}

// nextBatch is that batch; 0 is all together.
func (s *Screen) nextBatch() model.BatchID {
	for id := range s.desk.Collection().Batches().All() {
		if id := model.BatchID(id); id > s.ticks.batch && leftOf(s.ticks.steps[id]) > 0 {
			return id
		}
	}
	return 0
}

// from begins another list at its front.
func (s *Screen) from() {
	s.ticks.at, s.ticks.last, s.ticks.list, s.note = 0, 0, nil, ""
	s.listTicks()
}

func leftOf(n model.StepCounts) int {
	left := 0
	for _, step := range model.Steps() {
		left += n[step]
	}
	return left
}

// onDoneKey ticks the step for what is marked, or for the one at the cursor.
func (s *Screen) onDoneKey(msg tea.KeyMsg) tea.Cmd {
	t, k := &s.ticks, s.keys
	ch := &model.Tick{Step: t.step}
	sleeve := t.step == model.StepSleeve
	switch {
	case key.Matches(msg, k.done):
	case sleeve && key.Matches(msg, k.photocopy):
		ch.Sleeve = model.SleevePhotocopy
	case sleeve && key.Matches(msg, k.tissue):
		ch.Sleeve = model.SleeveWithTissue
	case sleeve && key.Matches(msg, k.missing):
		ch.Sleeve = model.SleeveMissing
	default:
		return nil
	}
	for i, a := range t.list {
		if t.isMarked(a) || t.marked == 0 && i == t.at {
			ch.Copies = append(ch.Copies, a)
		}
	}
	switch {
	case len(ch.Copies) == 0:
		return nil
	case t.step == model.StepBox:
		s.Tell(frame.Say{Text: "a copy is in its box when it stands there: Refile (ctrl+r) says where each goes, and takes the tick"})
		return nil
	}
	says := tickedText(ch)
	if sleeve && ch.Sleeve == "" {
		if n := s.desk.Layout.Pocketless(ch.Copies); n > 0 {
			says = fmt.Sprintf("%s: in binders; %d with no pocket yet (f2); ctrl+z takes it back", copiesText(len(ch.Copies)), n)
		}
	}
	s.write(ch, job{says: says})
	return nil
}

func copiesText(n int) string {
	if n == 1 {
		return "1 copy"
	}
	return fmt.Sprintf("%d copies", n)
}

// tickedText says what was ticked.
func tickedText(ch *model.Tick) string {
	n := copiesText(len(ch.Copies))
	what := map[model.Step]string{model.StepEnvelope: "in their labelled envelopes", model.StepGroup: "sorted to their publishers"}[ch.Step]
	if ch.Step == model.StepSleeve {
		what = map[model.Sleeve]string{"": "sleeves in their binders", model.SleevePhotocopy: "a photocopy in the binder",
			model.SleeveWithTissue: "sleeve stays with the tissue", model.SleeveMissing: "sleeve missing"}[ch.Sleeve]
	}
	return n + ": " + what + "; ctrl+z takes it back"
}

func (s *Screen) tickHelp() []key.Binding {
	k := s.keys
	var keys []key.Binding
	switch {
	case len(s.ticks.list) == 0:
	case s.ticks.step == model.StepSleeve:
		keys = []key.Binding{relabel(k.done, "in binder"), relabel(k.photocopy, "photocopy"), relabel(k.tissue, "with tissue"), k.missing, k.mark, k.all}
	case s.ticks.step != model.StepBox:
		keys = []key.Binding{k.done, k.mark, bind("30 space", "mark 30", ""), k.all}
	}
	keys = append(keys, k.step)
	if s.nextBatch() != s.ticks.batch {
		keys = append(keys, k.drawer)
	}
	return append(keys, k.back)
}
