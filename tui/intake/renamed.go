package intake

import "example.org/tuckrow/model"

// followNames has the fields, and what lies aside, say the new name of what was
// renamed: by the old one the next entry would make a thing of that name anew.
// The fields of an earlier entry follow the entry by themselves.
func (s *Screen) followNames(d model.Delta) {
	for _, e := range d {
		f, was, is := renamed(e)
		if was == is {
			continue
		}
		if s.edit == nil && s.fields[f].value == was {
			s.fields[f].value = is
		} else if s.edit != nil {
			s.edit.typing.Texts.rename(f, was, is)
		}
		if f == fCategory && s.before != nil && *s.before == was {
			s.before = &is
		}
		for i := range s.aside {
			s.aside[i].Texts.rename(f, was, is)
		}
		for a, k := range s.edits {
			k.Was.rename(f, was, is)
			k.Is.rename(f, was, is)
			s.edits[a] = k
		}
	}
}

func (t *texts) rename(f int, was, is string) {
	if t[f] == was {
		t[f] = is
	}
}

// renamed tells which field an edit has given another name to say, and both
// names; they are alike where it is about something else.
func renamed(e model.Edit) (field int, was, is string) {
	switch before := e.Before.(type) {
	case *model.Publisher:
		if after, ok := e.After.(*model.Publisher); ok {
			return fPublisher, before.Name, after.Name
		}
	case *model.Category:
		if after, ok := e.After.(*model.Category); ok {
			return fCategory, before.Name, after.Name
		}
	case *model.Batch:
		if after, ok := e.After.(*model.Batch); ok {
			return fBatch, before.Name, after.Name
		}
	}
	return 0, "", ""
}
