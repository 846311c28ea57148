package shelf

import (
	"encoding/json"
	"fmt"
	"maps"
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
	"example.org/tuckrow/tui/frame"
)

// kept is what is in the making, as it is written down: readings that are not
// recorded, and the furniture as it is being changed.
type kept struct {
	Format   int           `json:"format"`
	Box      model.BoxID   `json:"box,omitempty"` // chosen
	Readings []keptReading `json:"readings,omitempty"`
	Draft    *keptDraft    `json:"draft,omitempty"`
}

type keptReading struct {
	Box   model.BoxID       `json:"box"`
	Name  string            `json:"name"` // of the box, for when it is gone
	Texts []string          `json:"texts,omitempty"`
	At    int               `json:"at"`
	Typed string            `json:"typed,omitempty"`
	Row   []model.Accession `json:"row,omitempty"` // as recorded when it was begun
}

type keptDraft struct {
	Now     furniture      `json:"now"`
	Was     furniture      `json:"was"`
	Renames []model.Rename `json:"renames,omitempty"`
	Changed bool           `json:"changed"`
	At      int            `json:"at"`
	Form    *keptForm      `json:"form,omitempty"`
}

type keptForm struct {
	Kind  string   `json:"kind"`
	I     int      `json:"i"`
	IsNew bool     `json:"new,omitempty"`
	Texts []string `json:"texts"`
	Was   []string `json:"was"`
	At    int      `json:"at"`
}

// keptFormat is the version of what is kept. One of another version is left
// alone: it is not worth a program that does not start.
const keptFormat = 1

// written is all that is in the making; nothing when there is nothing.
func (s *Screen) written() []byte {
	k := kept{Format: keptFormat, Box: s.box, Readings: slices.Clone(s.strays)}
	for _, b := range s.desk.Collection().Shelf().Boxes {
		if w := s.walks[b.ID]; w != nil {
			typed := w.typed
			if s.stage == readingIt && s.box == b.ID {
				typed = s.field.Value()
			}
			if len(w.texts) > 0 || typed != "" {
				k.Readings = append(k.Readings, keptReading{b.ID, b.Name, w.texts, w.at, typed, w.row})
			}
		}
	}
	if d := s.draft; d != nil && (d.changed || d.form != nil && d.form.touched()) {
		k.Draft = &keptDraft{Now: d.now, Was: d.was, Renames: d.renames, Changed: d.changed, At: d.at}
		if f := d.form; f != nil && f.touched() {
			k.Draft.Form = &keptForm{kindNames[f.kind], f.i, f.isNew, f.texts(), f.was, f.at}
		}
	}
	if k.Readings == nil && k.Draft == nil {
		return nil
	}
	b, err := json.Marshal(k)
	if err != nil {
		s.Tell(frame.Complain{Err: fmt.Errorf("what is in the making here could not be written down: %w", err)})
	}
	return b
}

// keep has what is in the making written aside, if it is not as it was.
func (s *Screen) keep() tea.Cmd {
	if !s.unkept {
		return nil
	}
	s.unkept = false
	return s.keeper.Later(s.written())
}

// onClosing keeps all that is in the making, now.
func (s *Screen) onClosing() {
	if err := s.keeper.SaveDraft(s.written()); err != nil {
		s.Tell(frame.Complain{Err: fmt.Errorf("what was read and changed here could not be kept for the next time: %w", err)})
	}
}

// recall brings back what was kept. What was read in a box that is no longer
// there is set aside, to be looked at.
func (s *Screen) recall() {
	b, err := s.keeper.LoadDraft()
	if err != nil {
		s.Tell(frame.Complain{Err: fmt.Errorf("what was read and changed here last time cannot be shown: %w", err)})
		return
	}
	var k kept
	if len(b) == 0 || json.Unmarshal(b, &k) != nil || k.Format != keptFormat {
		return
	}
	s.box, s.strays = k.Box, k.Readings
	for i := range s.strays {
		s.strays[i].clean()
	}
	s.regroup()
	if k.Draft != nil {
		s.draft = k.Draft.draft()
	}
}

// regroup sets aside what was read in boxes that are no longer on the shelf, and
// brings back what was read in those that are there again.
func (s *Screen) regroup() {
	shelf := s.desk.Collection().Shelf()
	var gone []keptReading
	for _, id := range slices.Sorted(maps.Keys(s.walks)) {
		if _, there := shelf.Box(id); there {
			continue
		}
		w := s.walks[id]
		if s.stage == readingIt && s.box == id {
			w.typed = s.field.Value()
		}
		gone = append(gone, keptReading{id, w.name, w.texts, w.at, w.typed, w.row})
		delete(s.walks, id)
	}
	for _, r := range s.strays {
		if b, there := shelf.Box(r.Box); there && s.walks[r.Box] == nil {
			s.walks[r.Box] = &walk{name: b.Name, texts: r.Texts, at: r.At, typed: r.Typed, row: r.Row, reader: &reader{box: r.Box}}
		} else {
			gone = append(gone, r)
		}
	}
	s.unkept = s.unkept || len(gone) != len(s.strays)
	s.strays = gone
}

// clean makes what is kept fit to be shown, whoever wrote it.
func (r *keptReading) clean() {
	r.Name, r.Typed = words.Clean(r.Name), words.Clean(r.Typed)
	for i := range r.Texts {
		r.Texts[i] = words.Clean(r.Texts[i])
	}
	r.At = max(0, min(r.At, len(r.Texts)))
}

// draft is the draft that was kept; nil where it is none.
func (k *keptDraft) draft() *draft {
	d := &draft{now: k.Now, was: k.Was, renames: k.Renames, changed: k.Changed}
	d.at = max(0, min(k.At, len(d.now.pieces())-1))
	f := k.Form
	if f == nil {
		return d
	}
	kind := kind(slices.Index(kindNames[:], f.Kind))
	if kind < 0 || f.I < -1 || f.I >= d.now.count(kind) || f.I < 0 && !f.IsNew ||
		len(f.Texts) != len(fieldLabels[kind]) || len(f.Was) != len(f.Texts) {
		return d
	}
	for i := range f.Texts {
		f.Texts[i] = words.Clean(f.Texts[i])
	}
	d.form = newForm(piece{kind, f.I}, f.IsNew, f.Texts, f.Was)
	d.form.to(max(0, min(f.At, len(f.Texts)-1)))
	return d
}
