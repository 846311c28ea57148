package stocktake

import (
	"encoding/json"
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
	"example.org/tuckrow/tui/frame"
)

// kept is a stocktake under way, as it is written down.
type kept struct {
	Format int         `json:"format"`
	Begun  model.Date  `json:"begun"`
	Box    model.BoxID `json:"box,omitempty"` // chosen
	Counts []keptCount `json:"counts,omitempty"`
	Left   []string    `json:"left,omitempty"` // matters that are to stay as they are
}

type keptCount struct {
	Box   model.BoxID       `json:"box"`
	Name  string            `json:"name"`
	Steps []step            `json:"steps,omitempty"`
	Done  bool              `json:"done,omitempty"`
	Lost  []model.Accession `json:"lost,omitempty"`
	Typed string            `json:"typed,omitempty"`
	Moved moved             `json:"moved,omitempty"`
}

// keptFormat is the version of what is kept. One of another version is left
// alone.
const keptFormat = 1

// written is the stocktake under way; nothing where none is.
func (s *Screen) written() []byte {
	if s.begun == "" {
		return nil
	}
	k := kept{Format: keptFormat, Begun: s.begun, Box: s.box().ID}
	for _, b := range s.boxes() {
		n := s.counts[b.ID]
		if n == nil {
			continue
		}
		typed := n.typed
		if s.inBox() && s.box().ID == b.ID {
			typed = s.field.Value()
		}
		k.Counts = append(k.Counts, keptCount{b.ID, b.Name, n.steps, n.done, n.lost, typed, n.moved})
	}
	for name := range s.left {
		k.Left = append(k.Left, name)
	}
	b, err := json.Marshal(k)
	if err != nil {
		s.Tell(frame.Complain{Err: fmt.Errorf("what was counted could not be written down: %w", err)})
	}
	return b
}

// keep has it written aside, if it is not as it was.
func (s *Screen) keep() tea.Cmd {
	if !s.unkept && !s.inBox() {
		return nil
	}
	s.unkept = false
	return s.keeper.Later(s.written())
}

// save keeps it, now.
func (s *Screen) save() {
	if err := s.keeper.SaveDraft(s.written()); err != nil {
		s.Tell(frame.Complain{Err: fmt.Errorf("what was counted could not be kept for the next time: %w", err)})
	}
}

// recall brings back what was kept.
func (s *Screen) recall() {
	s.unkept = false
	b, err := s.keeper.LoadDraft()
	if err != nil {
		s.Tell(frame.Complain{Err: fmt.Errorf("what was counted last time cannot be shown: %w", err)})
		return
	}
	var k kept
	if len(b) == 0 || json.Unmarshal(b, &k) != nil || k.Format != keptFormat || k.Begun == "" {
		return
	}
	s.begun = k.Begun
	for _, x := range k.Counts {
		for i := range x.Steps {
			x.Steps[i].Read = words.Clean(x.Steps[i].Read)
		}
		if x.Moved == nil {
			x.Moved = moved{}
		}
		s.counts[x.Box] = &count{words.Clean(x.Name), x.Steps, x.Done, x.Lost, x.Moved, words.Clean(x.Typed)}
	}
	for _, name := range k.Left {
		s.left[name] = true
	}
	for i, b := range s.boxes() {
		if b.ID == k.Box {
			s.at = i
		}
	}
}
