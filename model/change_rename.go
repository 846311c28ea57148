package model

import (
	"slices"
	"strings"

	"example.org/tuckrow/model/words"
)

// Named is a kind of thing that has a name of its own.
type Named string

// The things that can be renamed.
const (
	NamedBox       Named = "box"
	NamedSection   Named = "section"
	NamedHooks     Named = "hooks"
	NamedPublisher Named = "publisher"
	NamedCategory  Named = "category"
	NamedBatch     Named = "batch"
)

// AllNamed lists the things that can be renamed.
func AllNamed() []Named {
	return []Named{NamedBox, NamedSection, NamedHooks, NamedPublisher, NamedCategory, NamedBatch}
}

// noun is what one calls one of the kind.
func (k Named) noun() string {
	if k == NamedHooks {
		return "row of hooks"
	}
	return string(k)
}

// Rename gives a thing another name. All that belongs to it stays with it:
// what stands in the box, the walls of a split, the patterns of the publisher.
type Rename struct {
	Kind Named  `json:"kind"`
	Old  string `json:"old"`
	New  string `json:"new"`
}

// Title implements Change.
func (ch *Rename) Title(*Collection) string {
	return "renamed " + ch.Kind.noun() + " " + words.Clean(ch.Old) + " to " + words.Clean(ch.New)
}

func (ch *Rename) apply(e *editor) error {
	r, err := ch.checked()
	if err != nil {
		return err
	}
	if r.ofShelf() {
		spec := e.c.ShelfSpec()
		if err := r.inSpec(&spec); err != nil {
			return err
		}
		return (&SetShelf{Spec: spec, Renames: []Rename{r}}).apply(e)
	}
	return e.rename([]Rename{r})
}

// checked is the rename with its names cleaned.
func (r Rename) checked() (Rename, error) {
	cleanAll(&r.Old, &r.New)
	switch {
	case !slices.Contains(AllNamed(), r.Kind):
		return r, Inputf("a %q has no name to be changed; use box, section, hooks, publisher, category or batch", r.Kind)
	case r.New == "":
		return r, Inputf("%s %q needs a name; give one that is not empty", r.Kind.noun(), r.Old)
	case r.Kind == NamedPublisher:
		return r, noPublisher(r.New)
	}
	return r, nil
}

// ofShelf tells whether the thing is part of the furniture, where a name is all
// that a shelf file knows it by.
func (r Rename) ofShelf() bool {
	return r.Kind == NamedBox || r.Kind == NamedSection || r.Kind == NamedHooks
}

// inSpec renames a piece of the furniture in a spec.
func (r Rename) inSpec(s *ShelfSpec) error {
	var names []*string
	switch r.Kind {
	case NamedBox:
		for i := range s.Boxes {
			names = append(names, &s.Boxes[i].Name)
		}
	case NamedSection:
		for i := range s.Sections {
			names = append(names, &s.Sections[i].Title)
		}
	case NamedHooks:
		for i := range s.Hooks {
			names = append(names, &s.Hooks[i].Name)
		}
	}
	var piece, other *string
	for _, n := range names {
		switch {
		case strings.EqualFold(*n, r.Old):
			piece = n
		case strings.EqualFold(*n, r.New):
			other = n
		}
	}
	switch {
	case piece == nil: // the shelf says so
	case other != nil:
		return r.taken(*other)
	default:
		*piece = r.New
	}
	return nil
}

// called lists the names of boxes, of sections or of rows of hooks.
func (s *Shelf) called(kind Named) []string {
	var names []string
	switch kind {
	case NamedBox:
		for _, b := range s.Boxes {
			names = append(names, b.Name)
		}
	case NamedSection:
		for _, x := range s.Sections {
			names = append(names, x.Title)
		}
	case NamedHooks:
		for _, h := range s.Hooks {
			names = append(names, h.Name)
		}
	}
	return names
}

func (r Rename) notThere(names []string) error {
	const most = 12
	all := make([]string, 0, most+1)
	for _, n := range names[:min(len(names), most)] {
		all = append(all, `"`+n+`"`)
	}
	if len(names) > most {
		all = append(all, "and more")
	}
	if len(all) == 0 {
		return Inputf("there is no %s %q, nor any other", r.Kind.noun(), r.Old)
	}
	return Inputf("there is no %s %q; there are %s", r.Kind.noun(), r.Old, strings.Join(all, ", "))
}

func (r Rename) taken(by string) error {
	return Inputf("%s %q cannot be called %q: another %s is called %q; give it a name of its own, or rename that one first",
		r.Kind.noun(), r.Old, r.New, r.Kind.noun(), by)
}

// checkAll finds renames that cannot be done together: of what is not on the
// shelf, or of one piece twice.
func checkAll(all []Rename, old *Shelf) ([]Rename, error) {
	out, seen := make([]Rename, len(all)), map[string]bool{}
	for i, r := range all {
		r, err := r.checked()
		if err != nil {
			return nil, err
		}
		key := string(r.Kind) + " " + caseKey(r.Old)
		if seen[key] {
			return nil, Inputf("%s %q is given two names; give it one", r.Kind.noun(), r.Old)
		}
		if names := old.called(r.Kind); r.ofShelf() && !slices.ContainsFunc(names, func(n string) bool { return strings.EqualFold(n, r.Old) }) {
			return nil, r.notThere(names)
		}
		out[i], seen[key] = r, true
	}
	return out, nil
}

// before is the name that a piece of the furniture had before the renames;
// empty when it is another piece's that bears the name no more.
func before(all []Rename, kind Named, name string) string {
	for _, r := range all {
		if r.Kind == kind && strings.EqualFold(r.New, name) {
			return r.Old
		}
	}
	for _, r := range all {
		if r.Kind == kind && strings.EqualFold(r.Old, name) {
			return ""
		}
	}
	return name
}

// rename gives publishers, categories and batches other names, all at once, so
// that two can exchange theirs.
func (e *editor) rename(all []Rename) error {
	all = slices.DeleteFunc(slices.Clone(all), Rename.ofShelf)
	if len(all) == 0 {
		return nil
	}
	records := make([]Record, len(all))
	for i, r := range all {
		if records[i] = e.from.renamed(r); records[i] == nil {
			return r.notThere(e.from.called(r.Kind))
		}
	}
	for _, r := range records {
		e.put(r)
	}
	e.names, e.grown = e.c.collectNames(), true
	for _, r := range all {
		same := slices.DeleteFunc(e.c.called(r.Kind), func(name string) bool { return nameKey(name) != nameKey(r.New) })
		if len(same) > 1 {
			return r.taken(same[0])
		}
	}
	e.rebin()
	return nil
}

// renamed is the record of a thing with its new name; nil when there is none.
func (c *Collection) renamed(r Rename) Record {
	switch r.Kind {
	case NamedPublisher:
		if p := c.PublisherNamed(r.Old); p != nil {
			named := *p
			named.Name = r.New
			return &named
		}
	case NamedCategory:
		if k := c.CategoryNamed(r.Old); k != nil {
			named := *k
			named.Name = r.New
			return &named
		}
	case NamedBatch:
		if b := c.BatchNamed(r.Old); b != nil {
			named := *b
			named.Name = r.New
			return &named
		}
	}
	return nil
}

// called lists the names of publishers, of categories or of batches.
func (c *Collection) called(kind Named) []string {
	var names []string
	switch kind {
	case NamedPublisher:
		for _, p := range c.publishers.All() {
			names = append(names, p.Name)
		}
	case NamedCategory:
		for _, k := range c.categories.All() {
			names = append(names, k.Name)
		}
	case NamedBatch:
		for _, b := range c.batches.All() {
			names = append(names, b.Name)
		}
	}
	return names
}
