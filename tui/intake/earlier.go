package intake

import (
	"fmt"
	"maps"
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
	"example.org/tuckrow/tui/frame"
)

// edit is an earlier entry in the fields, with the one that was being typed
// kept aside.
type edit struct {
	list    []model.Accession // that one can go through, the latest first
	at      int
	of      model.Accession
	pattern model.PatternID
	was     texts  // as it is listed
	typing  typed  // what was being typed
	put     *texts // what was typed here, while it is shown as listed
}

// unsaved is what was typed into an earlier entry and not saved, and what it
// was typed over.
type unsaved struct {
	Was  texts  `json:"was"`
	Is   texts  `json:"is"`
	Code string `json:"code,omitempty"` // scanned meanwhile
}

// mostEarlier is how far back one goes; who looks for an older one, finds it by
// its name in Find.
const mostEarlier = 200

// onEarlier goes to an earlier entry, or from it to the next earlier one, or
// with -1 to the next later one.
func (s *Screen) onEarlier(by int) tea.Cmd {
	if s.edit != nil {
		s.settleEdit()
		s.openEdit(min(max(0, s.edit.at+by), len(s.edit.list)-1))
		return nil
	}
	list := s.earlier()
	switch {
	case by < 0:
		return nil
	case len(list) == 0:
		s.note = "nothing was entered into this batch before"
		return nil
	}
	at := 0
	for a := range s.edits { // one that was left half done goes before the latest
		at = max(0, slices.Index(list, a))
	}
	if s.asks != 0 { // and before that the one that the screen asks about
		at = max(0, slices.Index(list, s.asks))
	}
	s.edit = &edit{list: list, typing: s.typed()}
	s.openEdit(at)
	return s.fields[s.focus].input.Focus()
}

// amend opens the very copy that another room has sent, and no other: it may be
// of any batch, or of none.
func (s *Screen) amend(a model.Accession) tea.Cmd {
	if s.desk.Collection().Copy(a) == nil {
		s.Tell(frame.Complain{Err: model.Inputf("copy %d is not listed any more", a)})
		return nil
	}
	s.fresh, s.ticks.open, s.about = false, false, nil
	if s.edit != nil {
		s.settleEdit()
		s.edit = &edit{list: []model.Accession{a}, typing: s.edit.typing}
	} else {
		s.edit = &edit{list: []model.Accession{a}, typing: s.typed()}
	}
	s.openEdit(0)
	return s.fields[s.focus].input.Focus()
}

// earlier lists what can be edited: what was entered in this sitting, then the
// rest of the batch, the latest first. What was left half changed is among it,
// wherever it is from.
func (s *Screen) earlier() []model.Accession {
	c := s.desk.Collection()
	var list []model.Accession
	for _, a := range slices.Backward(s.recent) {
		if c.Copy(a) != nil && len(list) < mostEarlier {
			list = append(list, a)
		}
	}
	for _, a := range slices.Sorted(maps.Keys(s.edits)) {
		if c.Copy(a) != nil && !slices.Contains(list, a) {
			list = append(list, a)
		}
	}
	sitting := len(list)
	batch := c.BatchNamed(s.fields[fBatch].text())
	for a := c.Counters().Copy; a > 0 && len(list) < mostEarlier; a-- {
		cp := c.Copy(a)
		if cp != nil && (batch == nil || cp.Batch == batch.ID) && !slices.Contains(list[:sitting], a) {
			list = append(list, a)
		}
	}
	return list
}

// openEdit puts one of the earlier entries into the fields.
func (s *Screen) openEdit(at int) {
	e, c := s.edit, s.desk.Collection()
	cp := c.Copy(e.list[at])
	if cp == nil {
		return // taken back since
	}
	e.at, e.of, e.pattern, e.put = at, cp.Accession, cp.Pattern, nil
	en := c.EntryOf(cp)
	e.was = textsOf(en)
	s.setTexts(e.was)
	s.forget()
	s.note = ""
	if k, ok := s.edits[e.of]; ok && k.Was == e.was {
		s.setTexts(k.Is)
		s.code = k.Code
		s.note = "as typed before, and not saved yet"
	}
	s.look()
}

// followEdit takes a change along that something else has made of the entry
// meanwhile: what was not touched here says what is listed now.
func (s *Screen) followEdit() {
	if s.edit == nil {
		return
	}
	cp := s.desk.Collection().Copy(s.edit.of)
	if cp == nil {
		return // saving it will say so
	}
	now, was, is := textsOf(s.desk.Collection().EntryOf(cp)), s.edit.was, s.texts()
	for i := range now {
		if now[i] != was[i] && is[i] == was[i] {
			s.fields[i].set(now[i])
		}
	}
	s.edit.was, s.edit.pattern = now, cp.Pattern
}

func (s *Screen) texts() texts {
	var t texts
	for i, f := range s.fields {
		t[i] = f.text()
	}
	return t
}

// settleEdit keeps what was typed into the entry that is being edited.
func (s *Screen) settleEdit() {
	s.fields[s.focus].settle()
	if k, there := s.unsaved(); there {
		s.edits[s.edit.of] = k
	} else {
		delete(s.edits, s.edit.of)
	}
}

// unsaved is what was typed into the entry that is being edited, if anything.
func (s *Screen) unsaved() (k unsaved, there bool) {
	e := s.edit
	is := s.texts()
	if is == e.was && e.put != nil {
		is = *e.put
	}
	return unsaved{e.was, is, s.code}, is != e.was || s.code != ""
}

// leaveEdit goes back to what was being typed. Neither that nor what was typed
// into the earlier entry is lost.
func (s *Screen) leaveEdit() tea.Cmd {
	s.settleEdit()
	left, open := s.edit.of, false
	_, open = s.edits[left]
	cmd := s.endEdit()
	if open {
		s.note = fmt.Sprintf("what was typed into %d is not saved; ctrl+e goes on with it", left)
	}
	return cmd
}

func (s *Screen) endEdit() tea.Cmd {
	back := s.edit.typing
	s.edit = nil
	return s.bring(back)
}

// saveEdit has the earlier entry say what the fields say.
func (s *Screen) saveEdit() tea.Cmd {
	e, c := s.edit, s.desk.Collection()
	cp := c.Copy(e.of)
	if cp == nil {
		s.Tell(frame.Complain{Err: model.Inputf("copy %d is not listed any more; esc goes back to what was being typed", e.of)})
		return nil
	}
	is := s.texts()
	if is == e.was && s.code == "" {
		delete(s.edits, e.of)
		cmd := s.endEdit()
		s.note = fmt.Sprintf("nothing was changed in %d", cp.Accession)
		return cmd
	}
	en := c.EntryOf(cp)
	number := en.Number
	err := s.fill(&en)
	if en.Number == "" && number == en.Barcode {
		en.Number = number // still not known
	}
	switch {
	case s.code != "":
		en.Barcode = s.code
	case s.plain != "" && s.plain == en.Number:
		en.Barcode = ""
	}
	check := en
	if check.Box, check.Hook = "", ""; err == nil {
		err = check.Normalise()
	}
	if err != nil {
		s.Tell(frame.Complain{Err: err})
		return nil
	}
	if s.asks == e.of {
		s.asks = 0
	}
	delete(s.edits, e.of)
	name := words.Clean(en.Number + " " + en.Name)
	s.write(&model.Revise{Entry: en}, job{edits: e.of, was: unsaved{e.was, is, s.code}, says: fmt.Sprintf("changed %d %s", e.of, name)})
	return s.endEdit()
}

// asListed shows the entry that is being edited as it is listed, and what was
// typed into it again.
func (s *Screen) asListed() {
	e := s.edit
	s.fields[s.focus].settle()
	if is := s.texts(); is != e.was {
		e.put = &is
		s.setTexts(e.was)
		s.note = "as it is listed; ctrl+x brings back what was typed"
	} else if e.put != nil {
		s.setTexts(*e.put)
		e.put, s.note = nil, ""
	}
	s.before, s.chosen = nil, false
	s.look()
}
