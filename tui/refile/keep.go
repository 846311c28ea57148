package refile

import (
	"encoding/json"
	"fmt"
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/tui/frame"
)

// kept is what is written down of a walk besides what the store says: where one
// was, and all that there was to do.
type kept struct {
	Format int          `json:"format"`
	Firsts []model.Wall `json:"firsts"` // the decision that the walk carries out
	Step   string       `json:"step"`
	Pulls  []keptTask   `json:"pulls,omitempty"`
	Puts   []keptTask   `json:"puts,omitempty"`

	SkippedPulls map[model.Accession]int `json:"skipped_pulls,omitempty"`
	SkippedPuts  map[model.Accession]int `json:"skipped_puts,omitempty"`
}

type keptTask struct {
	Copy model.Accession `json:"copy"`
	Box  model.BoxID     `json:"box"`
}

// keptFormat is the version of what is kept. One of another version is left
// alone.
const keptFormat = 1

var stepNames = map[stage]string{pulling: "pull", sorting: "sort", putting: "put"}

// written is what is to be kept of the walk; nothing where none is under way.
func (s *Screen) written() []byte {
	if s.walk == nil || !s.settled() || s.at == overview {
		return nil
	}
	k := kept{Format: keptFormat, Firsts: s.desk.Collection().Walls().Firsts, Step: stepNames[s.at],
		Pulls: tasksOf(&s.walk.pulls), Puts: tasksOf(&s.walk.puts), SkippedPulls: s.skips[0], SkippedPuts: s.skips[1]}
	b, err := json.Marshal(k)
	if err != nil {
		s.Tell(frame.Complain{Err: fmt.Errorf("where the walk is could not be written down: %w", err)})
	}
	return b
}

func tasksOf(l *list) []keptTask {
	var out []keptTask
	for _, t := range l.tasks {
		out = append(out, keptTask{t.item.Copy, t.box.ID})
	}
	return out
}

// keep has it written aside, if it is not as it was. What was kept is left alone
// until it was looked at.
func (s *Screen) keep() tea.Cmd {
	if !s.unkept || s.kept != nil {
		return nil
	}
	s.unkept = false
	return s.keeper.Later(s.written())
}

func (s *Screen) onClosing() {
	if s.kept != nil {
		return
	}
	if err := s.keeper.SaveDraft(s.written()); err != nil {
		s.Tell(frame.Complain{Err: fmt.Errorf("where the walk is could not be kept for the next time: %w", err)})
	}
}

// recall brings back what was kept, if it is of the decision that stands.
func (s *Screen) recall() {
	b, err := s.keeper.LoadDraft()
	if err != nil {
		s.Tell(frame.Complain{Err: fmt.Errorf("where the walk was last time cannot be shown: %w", err)})
		return
	}
	var k kept
	if len(b) == 0 || json.Unmarshal(b, &k) != nil || k.Format != keptFormat ||
		len(k.Firsts) == 0 || !slices.Equal(k.Firsts, s.desk.Collection().Walls().Firsts) {
		return
	}
	for step, name := range stepNames {
		if name == k.Step {
			s.at = step
		}
	}
	for i, skips := range []map[model.Accession]int{k.SkippedPulls, k.SkippedPuts} {
		for a, n := range skips {
			s.skips[i][a] = n
		}
	}
	s.kept = &k
}

// walk is the walk as it was, with all ticked that a walk worked out now has not
// to be done any more.
func (k *kept) walk(c *model.Collection, now *walk) *walk {
	tasks := func(kept []keptTask, left *list, done func(keptTask) bool) list {
		var out []*task
		for _, t := range kept {
			b, there := c.Shelf().Box(t.Box)
			p := c.PatternOf(t.Copy)
			if !there || p == nil || left.of[t.Copy] != nil {
				continue
			}
			out = append(out, &task{item: &ordering.Item{Copy: t.Copy, Pattern: p}, box: b, ticked: done(t)})
		}
		return listOf(out)
	}
	return &walk{
		pulls: tasks(k.Pulls, &now.pulls, func(keptTask) bool { return true }),
		puts: tasks(k.Puts, &now.puts, func(t keptTask) bool {
			spot, stands := c.Standing(t.Copy)
			return stands && spot.Box == t.Box
		}),
	}
}
