package clean

import (
	"errors"
	"slices"
	"strings"

	"example.org/tuckrow/model"
)

// Unread is a cell that the field it goes into cannot read, or that cannot be as it
// says: a hook that is not there.
type Unread struct {
	Row     int // index of the row
	Field   string
	Heading string // of its column
	Text    string
	Err     error // why it cannot
}

// unread proposes what to do about cells that cannot be read: a day is read where
// the column tells how, anything else goes into the notes as it is. Cells alike are
// mended together. The rows are mended on the way.
func unread(rows []model.Entry, cells []Unread) []Proposal {
	orders := map[string]order{}
	for _, field := range dayFields {
		var texts []string
		for _, u := range cells {
			if u.Field == field {
				texts = append(texts, u.Text)
			}
		}
		orders[field] = orderOf(texts)
	}
	var out []Proposal
	at := map[[3]string]int{} // where a proposal for cells alike is
	for _, u := range cells {
		p := aside(&rows[u.Row], u)
		if slices.Contains(dayFields, u.Field) {
			if day, why, ok := orders[u.Field].day(u.Text); ok {
				p = Proposal{Kind: Day, Unread: u.Field, Edits: []Edit{{u.Field, u.Text, day}}, Why: why}
			} else {
				p.Why = why
			}
		}
		p.Rows = []int{u.Row}
		p.Apply(rows)
		key := [3]string{u.Field, u.Text, p.Edits[len(p.Edits)-1].Is}
		if i, again := at[key]; again && slices.Equal(out[i].Edits, p.Edits) {
			out[i].Rows = append(out[i].Rows, u.Row)
			continue
		}
		at[key] = len(out)
		out = append(out, p)
	}
	return out
}

// aside puts what a cell says into the notes.
func aside(en *model.Entry, u Unread) Proposal {
	why := "it cannot be read there"
	if fault, ok := errors.AsType[*model.FieldError](u.Err); ok {
		why = "it " + fault.Problem
	}
	note := u.Heading + ": " + u.Text
	return Proposal{Kind: Aside, Unread: u.Field, Why: why, Edits: []Edit{
		{u.Field, u.Text, ""},
		{"notes", en.Notes, strings.TrimPrefix(en.Notes+"; "+note, "; ")},
	}}
}
