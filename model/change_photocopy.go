package model

import "slices"

// Photocopy notes that a photocopy of a pattern's sleeve was put into the binder
// of one of its further categories, where the see-also entry has a pocket of its
// own then, or was taken out of there.
type Photocopy struct {
	Pattern  PatternID `json:"pattern"`
	Category string    `json:"category"`
	Out      bool      `json:"out,omitempty"`
}

// Title implements Change.
func (ch *Photocopy) Title(c *Collection) string {
	what, where := "put a photocopy of ", " into "
	if ch.Out {
		what, where = "took the photocopy of ", " out of "
	}
	return what + c.Called(ch.Pattern) + where + ch.Category
}

func (ch *Photocopy) apply(e *editor) error {
	old := e.c.Pattern(ch.Pattern)
	if old == nil {
		return Inputf("there is no pattern %d; it was taken off the list", ch.Pattern)
	}
	k := e.c.CategoryNamed(ch.Category)
	if k == nil || !slices.Contains(old.Also, k.ID) {
		return Inputf("%s has no see-also entry in %q; it gets one with: tuckrow change WORDS also_in=%s", e.c.Called(ch.Pattern), ch.Category, ch.Category)
	}
	p := *old
	p.Copied = noneNil(slices.DeleteFunc(slices.Clone(p.Copied), func(id CategoryID) bool { return id == k.ID }))
	if !ch.Out {
		p.Copied = append(p.Copied, k.ID)
	}
	e.put(&p)
	return nil
}

// cleanFurther takes a pattern's own category out of its further ones, and checks
// that a photocopy has a see-also entry.
func (en *Entry) cleanFurther() error {
	own := func(k string) bool { return nameKey(k) == nameKey(en.Category) }
	en.Also, en.Copied = noneNil(slices.DeleteFunc(en.Also, own)), noneNil(slices.DeleteFunc(en.Copied, own))
	for _, k := range en.Copied {
		if !slices.ContainsFunc(en.Also, func(also string) bool { return nameKey(also) == nameKey(k) }) {
			return &FieldError{"photocopied_in", k, "is none of its further categories", "name it in also_in as well, or take it out of photocopied_in"}
		}
	}
	return nil
}

// further gives the categories that are named, each once, without its own.
func (e *editor) further(names []string, own CategoryID) []CategoryID {
	var out []CategoryID
	for _, name := range names {
		if id := e.category(name); id != own && !slices.Contains(out, id) {
			out = append(out, id)
		}
	}
	return out
}
