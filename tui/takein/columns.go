package takein

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
	"example.org/tuckrow/storage/exchange"
	"example.org/tuckrow/tui/form"
)

const (
	unused     = "not used" // of a column that goes nowhere
	batchLabel = "batch of all rows"
)

// recognise makes the form of what each column is, as it is guessed.
func (s *Sheet) recognise() {
	guessed, err := exchange.Recognise(s.table, nil)
	if err != nil {
		s.complain(err)
		return
	}
	choices := []string{unused}
	for _, f := range model.Fields() {
		choices = append(choices, f.Name)
	}
	var fields []form.Field
	var values []string
	s.columns = nil
	seen := map[string]string{}
	for i, heading := range s.table.Header {
		if exchange.Tell(seen, heading, ""); len(seen) == len(s.columns) {
			continue // of two that are headed alike the first counts
		}
		label := heading
		if label == "" {
			label = fmt.Sprintf("column %d", i+1)
		}
		hint := "it is empty"
		if some := s.samples(i); len(some) > 0 {
			hint = fmt.Sprintf("it holds %q", some[0])
			for _, x := range some[1:] {
				hint += fmt.Sprintf(", %q", x)
			}
		}
		value := guessed[i]
		if is, kept := s.recalled(heading); kept {
			value = is
		}
		if value == "" {
			value = unused
		}
		s.columns = append(s.columns, i)
		fields, values = append(fields, form.Field{Label: label, Hint: hint + "; its letters choose, one again the next", Choices: choices}), append(values, value)
	}
	fields = append(fields, form.Field{Label: batchLabel, Hint: "what you call the drawer or file; of rows that name no batch themselves", Names: s.desk.Batches})
	title := words.Count(len(s.table.Rows), "row", "rows") + ": what its columns are"
	if s.kept.File == s.typed {
		title += ", as they were left"
	}
	s.form = form.New(title, fields, append(values, s.batch()))
	s.stage = mapping
}

// told is what the form says of every column: what one is told to be must not make
// another be guessed otherwise than it stands there.
func (s *Sheet) told() map[string]string {
	told, now := map[string]string{}, s.form.Values()
	for k, i := range s.columns {
		exchange.Tell(told, s.table.Header[i], strings.TrimPrefix(now[k], unused))
	}
	return told
}

func (s *Sheet) onNameKey(msg tea.KeyMsg) tea.Cmd {
	var cmd tea.Cmd
	switch {
	case key.Matches(msg, s.keys.leave):
		s.left = true
	case key.Matches(msg, s.keys.read):
		if name := s.picker.Enter(); name != "" {
			s.open(name)
			return nil
		}
	default:
		cmd = s.picker.Update(msg)
	}
	s.look()
	return cmd
}

func (s *Sheet) onMapKey(msg tea.KeyMsg) tea.Cmd {
	switch {
	case key.Matches(msg, s.keys.back):
		s.stage = naming
	case key.Matches(msg, s.keys.columns):
		s.form.Settle()
		s.find()
	default:
		return s.form.Update(msg)
	}
	return nil
}
