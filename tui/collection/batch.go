package collection

import (
	"fmt"
	"strconv"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/identify"
	"example.org/tuckrow/tui/form"
)

// renameSheet is the form of another name of a batch.
func renameSheet(name string) *sheet {
	return &sheet{"name of " + name, "Another name for the batch " + name, []form.Field{{Label: batchLabel, Hint: "what you call the drawer or parcel"}}, []string{name},
		func(v func(string) string) (model.Change, error) {
			if v(batchLabel) == name {
				return nil, nil
			}
			return &model.Rename{Kind: model.NamedBatch, Old: name, New: v(batchLabel)}, nil
		}}
}

// dropSheet asks whether a batch is to be dropped, and says what that means.
func (s *Screen) dropSheet(name string) *sheet {
	c, copies := s.desk.Collection(), "no copy is in it"
	if b := c.BatchNamed(name); b != nil {
		switch n := c.BatchCounts()[b.ID].Copies; {
		case n == 1:
			copies = "its copy stays listed where it is, and belongs to no batch then"
		case n > 1:
			copies = fmt.Sprintf("its %d copies stay listed where they are, and belong to no batch then", n)
		}
	}
	return &sheet{"drop " + name, "Drop the batch " + name + "?", []form.Field{
		{Label: "drop it", Hint: copies + "; where it came from is forgotten; ctrl+z brings all of it back in one step", Choices: []string{"no", "yes"}},
	}, []string{"no"}, func(v func(string) string) (model.Change, error) {
		if v("drop it") != "yes" {
			return nil, nil
		}
		return &model.DropBatch{Batch: name}, nil
	}}
}

// knownFields are what one finds out about a pattern of the bin, by the names of
// columns.
var knownFields = []string{"publisher", "number", "name", "category", "size_range", "year", "dated_by"}

// knownSheet is the form of what was found out about a pattern that nobody knew.
func (s *Screen) knownSheet(id model.PatternID) *sheet {
	c := s.desk.Collection()
	p := c.Pattern(id)
	if p == nil || len(s.desk.Index.Copies(id)) == 0 {
		return nil
	}
	a := s.desk.Index.Copies(id)[0]
	en := c.EntryOf(c.Copy(a))
	hints := map[string]string{"publisher": "who issued it", "number": "as printed", "name": "what it is called, or what it is", "category": "its binder",
		"size_range": "like 14-20", "year": "like 1911; nothing while nobody knows", "dated_by": "what the year goes by: copyright line, postmark, price, guess"}
	x := &sheet{name: "known " + strconv.Itoa(int(id)), title: "What it is: " + c.Called(id)}
	for _, name := range knownFields {
		f, _ := model.FieldNamed(name)
		field := form.Field{Label: name, Hint: hints[name]}
		switch name {
		case "publisher":
			field.Names = s.desk.Publishers
		case "category":
			field.Names = s.desk.Categories
		}
		x.fields, x.values = append(x.fields, field), append(x.values, f.Typed(&en))
	}
	x.change = func(v func(string) string) (model.Change, error) {
		now := s.desk.Collection()
		if now.Copy(a) == nil {
			return nil, model.Inputf("the copy is not listed any more; leave this with esc")
		}
		en := now.EntryOf(now.Copy(a))
		for _, name := range knownFields {
			f, _ := model.FieldNamed(name)
			if err := f.Type(&en, v(name)); err != nil {
				return nil, err
			}
		}
		ch, err := identify.Known(en)
		if err != nil {
			return nil, err
		}
		return ch, nil
	}
	return x
}
